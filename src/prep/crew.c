/* src/prep/crew.c - cooks, burners, ovens, tools, places and circuits as resources with calendars.
 *
 * Owns     the numbers of those resources.
 * May use  prep/making.
 */
#include "prep/making.h"

static void shift_rows(bpi_making *m, uint32_t c, uint32_t s)
{
    bpi_rows *r = &m->rows;
    const bpi_cook *cook = &m->show->kitchen.cook[c];
    const bpi_shift *shift = &cook->shift[s];
    uint32_t busy = bpi_rows_fact(r, BPI_FACT_COOK, c, 0, 0, 0, cook->where);
    uint32_t res = bpi_rows_resource(r, (bpi_res){BPI_RES_SHIFT, c, s}, m->attention, busy);
    bpi_rows_span(r, res, 0, bpi_making_up(m, shift->call), 0,
                  bpi_rows_fact(r, BPI_FACT_CALL, c, s, 0, 0, shift->call_where));
    if (s > 0) /* however early the call: not into the shift before */
        bpi_rows_span(r, res, 0, bpi_making_up(m, cook->shift[s - 1].wrap), 0, 0);
    if (s + 1 < cook->shifts)
        bpi_rows_span(r, res, bpi_making_down(m, cook->shift[s + 1].call), m->horizon, 0, 0);
    if (s + 1 < cook->shifts || !m->change.late)
        bpi_rows_span(r, res, bpi_making_down(m, shift->wrap), m->horizon, 0,
                      bpi_rows_fact(r, BPI_FACT_WRAP, c, s, 0, 0, shift->wrap_where));
    for (uint32_t i = 0; i < cook->rests; i++)
        bpi_rows_span(r, res, bpi_making_down(m, cook->rest[i].from),
                      bpi_making_up(m, cook->rest[i].to), 0,
                      bpi_rows_fact(r, BPI_FACT_REST, c, i, 0, 0, cook->rest[i].where));
}

/* Where one vessel takes more than one position, each place counts for itself: none stands half in one
 * and half in another. And where one is heated, for it is not hot as the others are. */
static bool are_apart(const bpi_kitchen *kitchen)
{
    for (uint32_t t = 0; t < kitchen->tools; t++)
        if (kitchen->tool[t].room > 1)
            return true;
    for (uint32_t i = 0; i < kitchen->places; i++)
        if (kitchen->place[i].heat_mC_min)
            return true;
    return false;
}

static void place_rows(bpi_making *m)
{
    bpi_rows *r = &m->rows;
    const bpi_kitchen *kitchen = &m->show->kitchen;
    bool apart = are_apart(kitchen);
    m->place0 = apart ? r->resource.n : BPI_NO_INDEX;
    for (uint32_t i = 0; i < kitchen->places && apart; i++) {
        const bpi_place *p = &kitchen->place[i];
        bpi_rows_resource(r, (bpi_res){BPI_RES_KEEP, p->keep, i + 1}, (int32_t)p->count,
                          bpi_rows_fact(r, BPI_FACT_PLACE, p->keep, i + 1, 0, 0, p->where));
    }
    for (uint32_t k = 0; k < BPI_KEEPS; k++) {
        int32_t rooms = 0;
        bpi_where where = m->show->kitchen.places_where;
        bool named = false;
        for (uint32_t i = 0; i < m->show->kitchen.places; i++) {
            const bpi_place *p = &m->show->kitchen.place[i];
            if (p->keep == (bpi_keep)k) {
                rooms += (int32_t)p->count;
                where = named ? where : p->where;
                named = true;
            }
        }
        m->keep[k] = BPI_NO_INDEX;
        if (named ? !apart : k != BPI_COUNTER)
            m->keep[k] = bpi_rows_resource(r, (bpi_res){BPI_RES_KEEP, k, 0}, rooms,
                                           bpi_rows_fact(r, BPI_FACT_PLACE, k, 0, 0, 0, where));
    }
}

static bool watches(const bpi_show *show)
{
    for (uint32_t i = 0; i < show->recipes; i++)
        for (uint32_t s = 0; s < show->recipe[i].steps; s++)
            if (show->recipe[i].step[s].watch)
                return true;
    return false;
}

void bpi_crew_make(bpi_making *m)
{
    const bpi_kitchen *kitchen = &m->show->kitchen;
    bpi_rows *r = &m->rows;
    uint32_t *shift = BPI_TAKE(r->a, kitchen->cooks, uint32_t);
    if (!shift) {
        r->failed = true;
        return;
    }
    m->shift = shift;
    m->attention = watches(m->show) ? BPI_ATTENTION : 1;
    for (uint32_t c = 0; c < kitchen->cooks; c++) {
        shift[c] = r->resource.n;
        for (uint32_t s = 0; s < kitchen->cook[c].shifts; s++)
            shift_rows(m, c, s);
    }
    m->burner =
        bpi_rows_resource(r, (bpi_res){BPI_RES_BURNER, 0, 0}, (int32_t)kitchen->burners,
                          bpi_rows_fact(r, BPI_FACT_BURNERS, 0, 0, 0, 0, kitchen->burners_where));
    m->oven0 = r->resource.n;
    for (uint32_t i = 0; i < kitchen->ovens; i++)
        bpi_rows_resource(
            r, (bpi_res){BPI_RES_OVEN, i, 0}, (int32_t)kitchen->oven[i].positions,
            bpi_rows_fact(r, BPI_FACT_POSITIONS, i, 0, 0, 0, kitchen->oven[i].positions_where));
    m->tool0 = r->resource.n;
    for (uint32_t i = 0; i < kitchen->tools; i++)
        bpi_rows_resource(r, (bpi_res){BPI_RES_TOOL, i, 0}, (int32_t)kitchen->tool[i].count,
                          bpi_rows_fact(r, BPI_FACT_TOOL, i, 0, 0, 0, kitchen->tool[i].where));
    place_rows(m);
    m->circuit0 = r->resource.n;
    for (uint32_t i = 0; i < kitchen->circuits; i++)
        bpi_rows_resource(
            r, (bpi_res){BPI_RES_CIRCUIT, i, 0}, (int32_t)bpi_circuit_watts(&kitchen->circuit[i]),
            bpi_rows_fact(r, BPI_FACT_CIRCUIT, i, 0, 0, 0, kitchen->circuit[i].where));
}

void bpi_crew_extra(bpi_making *m, uint32_t res, int32_t amount)
{
    for (uint32_t i = 0; i < m->extras; i++)
        if (m->extra[i].res == res) {
            m->extra[i].amount += amount;
            return;
        }
    if (res != BPI_NO_INDEX)
        m->extra[m->extras++] = (bp_eng_need){res, amount, -1};
}

static void extra_watts(bpi_making *m, uint32_t circuit, uint32_t watts)
{
    if (circuit != BPI_NO_INDEX)
        bpi_crew_extra(m, m->circuit0 + circuit, (int32_t)watts);
}

void bpi_crew_extra_step(bpi_making *m, uint32_t box, const bpi_step *s, bool on, bool tools)
{
    const bpi_kitchen *k = &m->show->kitchen;
    if (s->burner) {
        bpi_crew_extra(m, m->burner, 1);
        if (on)
            extra_watts(m, k->burner_circuit, k->burner_watts);
    }
    for (uint32_t i = 0; i < s->tools; i++) {
        const bpi_tool *t = &k->tool[s->tool[i]];
        if (tools || t->vessel)
            bpi_crew_extra(m, m->tool0 + s->tool[i], 1);
        if (tools)
            extra_watts(m, t->circuit, t->watts);
    }
    bpi_vessel_at_step(m, box, (uint32_t)(s - m->show->recipe[m->box[box].recipe].step));
}

void bpi_crew_needs(bpi_making *m)
{
    for (uint32_t i = 0; i < m->extras; i++)
        bpi_rows_need(&m->rows, m->extra[i].res, m->extra[i].amount, m->extra[i].state);
}

/* Positions that the vessels take which the job has. */
static int32_t positions(const bpi_making *m)
{
    int32_t n = 0;
    for (uint32_t i = 0; i < m->extras; i++)
        for (uint32_t t = 0; t < m->show->kitchen.tools; t++)
            if (m->extra[i].res == m->tool0 + t)
                n += m->extra[i].amount * (int32_t)m->show->kitchen.tool[t].room;
    return n > 1 ? n : 1;
}

/* The way to stand there, and the shortest and longest it may. */
typedef struct standing {
    bpi_way way;
    int32_t least, most;
    uint32_t fact;
} standing;

static void stand_option(bpi_making *m, const standing *s, uint32_t res)
{
    bpi_rows_option(&m->rows, s->way, s->least, s->most, s->fact);
    if (res != BPI_NO_INDEX)
        bpi_rows_need(&m->rows, res, positions(m), -1);
    bpi_crew_needs(m);
}

uint32_t bpi_crew_stand(bpi_making *m, uint32_t keep, int32_t least, int32_t most, uint32_t fact)
{
    const bpi_kitchen *kitchen = &m->show->kitchen;
    standing s = {{BPI_NO_INDEX, BPI_NO_INDEX, BPI_NO_INDEX, (int32_t)keep, false, 0, 0, 0},
                  least,
                  most,
                  fact};
    uint32_t n = 0;
    bool heated = false;
    for (uint32_t i = 0; i < kitchen->places && m->place0 != BPI_NO_INDEX; i++) {
        const bpi_place *p = &kitchen->place[i];
        for (uint32_t d = 0; p->keep == (bpi_keep)keep && d <= (p->heat_mC_min ? m->nights : 0);
             d++) {
            s.way.place = i + 1;
            s.way.day = d;
            stand_option(m, &s, m->place0 + i);
            heated |= p->heat_mC_min > 0;
            n++;
        }
    }
    if (!n) {
        stand_option(m, &s, m->keep[keep]);
        return 1;
    }
    if (heated &&
        least == 0) { /* what goes on at once stands in none, and none is switched on for it */
        s = (standing){{BPI_NO_INDEX, BPI_NO_INDEX, BPI_NO_INDEX, -1, false, 0, 0, 0}, 0, 0, 0};
        stand_option(m, &s, BPI_NO_INDEX);
        n++;
    }
    return n;
}

static bool has_skill(const bpi_cook *cook, uint32_t skill)
{
    for (uint32_t i = 0; i < cook->skills; i++)
        if (cook->skill[i] == skill)
            return true;
    return skill == BPI_NO_INDEX;
}

/* A resource that is never there as long as the fact holds. A cook without a skill takes it, so
 * that with the fact off anybody will do. */
static uint32_t missing(bpi_making *m, uint32_t fact)
{
    for (uint32_t i = 0; i < m->rows.resource.n; i++)
        if (BPI_ROW(m->rows.res, bpi_res, i)->kind == BPI_RES_MISSING &&
            BPI_ROW(m->rows.resource, bp_eng_resource, i)->fact == fact)
            return i;
    return bpi_rows_resource(&m->rows, (bpi_res){BPI_RES_MISSING, 0, 0}, 0, fact);
}

/* The oven among what the job needs. */
static uint32_t oven_needed(const bpi_making *m)
{
    for (uint32_t i = 0; i < m->extras; i++)
        if (m->extra[i].res >= m->oven0 && m->extra[i].res < m->tool0)
            return m->extra[i].res - m->oven0;
    return BPI_NO_INDEX;
}

static void add_options(bpi_making *m, const int32_t length[2], uint32_t skill, int32_t takes)
{
    const bpi_kitchen *kitchen = &m->show->kitchen;
    uint32_t oven = oven_needed(m);
    for (uint32_t c = 0; c < kitchen->cooks; c++) {
        const bpi_cook *cook = &kitchen->cook[c];
        uint32_t lacks = BPI_NO_INDEX;
        if (!has_skill(cook, skill))
            lacks =
                missing(m, bpi_rows_fact(&m->rows, BPI_FACT_SKILL, skill, 0, 0, 0, cook->where));
        for (uint32_t s = 0; s < cook->shifts; s++) {
            bpi_rows_option(&m->rows, (bpi_way){c, s, oven, -1, false, 0, 0, 0}, length[0],
                            length[1], 0);
            bpi_rows_need(&m->rows, m->shift[c] + s, takes, -1);
            if (lacks != BPI_NO_INDEX)
                bpi_rows_need(&m->rows, lacks, 1, -1);
            bpi_crew_needs(m);
        }
    }
}

void bpi_crew_options_between(bpi_making *m, int32_t least, int32_t most, uint32_t skill)
{
    add_options(m, (int32_t[2]){least, most}, skill, m->attention);
}

void bpi_crew_options(bpi_making *m, int32_t length, uint32_t skill)
{
    bpi_crew_options_between(m, length, length, skill);
}

void bpi_crew_hands(bpi_making *m, const bpi_step *s, int32_t length)
{
    if (s->kind != BPI_OVEN) {
        bpi_crew_options(m, length, BPI_NO_INDEX);
        return;
    }
    for (uint32_t o = 0; o < m->show->kitchen.ovens; o++) {
        if (!bpi_heat_takes(s, o))
            continue;
        m->extra[m->extras++] = (bp_eng_need){m->oven0 + o, 1, bpi_heat_state(m, o, s->oven_mC)};
        bpi_crew_options(m, length, BPI_NO_INDEX);
        m->extras--;
    }
}

void bpi_crew_options_step(bpi_making *m, int32_t length, const bpi_step *s)
{
    int32_t takes = s->watch ? (int32_t)s->watch : s->light ? BPI_LIGHT : m->attention;
    if (takes > m->attention)
        takes = m->attention; /* light, and nothing is watched */
    add_options(m, (int32_t[2]){length, length}, s->skill, takes);
}

void bpi_crew_left_out(bpi_making *m)
{
    bpi_rows_option(
        &m->rows, (bpi_way){BPI_NO_INDEX, BPI_NO_INDEX, BPI_NO_INDEX, -1, true, 0, 0, 0}, 0, 0, 0);
}
