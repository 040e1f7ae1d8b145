/* src/model/readheat.c - a step whose time is worked out from what it heats.
 *
 * Owns     "heat" of a step.
 * May use  base/, model/read, model/heating, model/quantity.
 */
#include <stddef.h>

#include "model/heating.h"
#include "model/read.h"

#define HEAVIEST INT64_C(200000000) /* mg: 200 kg, more than a kettle of a kitchen holds */
#define DAY      INT64_C(86400)
#define MINUTE   INT64_C(60)

/* A litre counts as a kilogram, as of water: of what is lighter it is too much, of what is heavier, as a
 * thick sauce, some hundredths too little. */
static void read_mass(bpi_reader *r, void *into, const bpi_node *v, const bpi_member *m)
{
    static const char right[] = "write a mass or a volume up to 200 kg, such as \"4 l\"";
    bpi_heating *h = into;
    bpi_quantity q = {.dimension = BPI_NO_AMOUNT};
    bpi_fault f = {0, "", ""};
    if (!bpi_read_is_text(r, v, m->name, right))
        return;
    if (!bpi_quantity_read(&q, v->text, v->len, &f)) {
        bpi_read_fault(r, v, &f);
        return;
    }
    if ((q.dimension != BPI_MASS && q.dimension != BPI_VOLUME) || q.packs || q.word[0]) {
        bpi_read_wrong(r, BP_EVALUE, v->at, right,
                       "what is heated is not told by weight or measure");
        return;
    }
    const bpi_unit *unit = &bpi_units[q.unit];
    int64_t milli = INT64_C(1000) * unit->den * q.den, all; /* micrograms, or nanolitres of 1 ug */
    if (__builtin_mul_overflow(q.num, unit->num, &all) ||
        all / milli + (all % milli != 0) > HEAVIEST)
        bpi_read_wrong(r, BP_ERANGE, v->at, right, "\"%s\" cannot be %s", m->name, v->text);
    else {
        h->mass_mg = all / milli + (all % milli != 0);
        h->amount = q;
    }
}

static void check_heat(bpi_reader *r, bpi_step *s, const bpi_node *v)
{
    bpi_heating *h = &s->heat;
    if (h->to_mC <= h->from_mC) {
        bpi_read_wrong(r, BP_EVALUE, v->at, "write a \"to\" above \"from\"",
                       "step \"%s\" heats to what it already is", s->id);
        return;
    }
    int64_t seconds = bpi_heating_seconds(h, h->mass_mg);
    if (seconds > DAY) {
        bpi_read_wrong(r, BP_ERANGE, v->at, "heat less at once, or with more watts",
                       "step \"%s\" would be heated for more than a day", s->id);
        return;
    }
    int64_t whole = (seconds + MINUTE - 1) / MINUTE * MINUTE;
    s->time = (bpi_length){whole, whole, whole, false, false, v->at};
    s->time_where = v->at;
}

/* What a step on a burner does not say of the power is said of all burners. */
static void read_power(bpi_reader *r, bpi_step *s, const bpi_node *v)
{
    const bpi_kitchen *k = &r->show->kitchen;
    bool watts = bpi_node_member(v, "watts") != NULL;
    bool percent = bpi_node_member(v, "percent") != NULL;
    if (!watts && !percent && s->burner && k->burner_watts && k->burner_percent) {
        s->heat.watts = k->burner_watts;
        s->heat.percent = k->burner_percent;
    } else if (!watts && !percent && s->burner)
        bpi_read_wrong(r, BP_EVALUE, v->at,
                       "add \"watts\": 2000, \"percent\": 74, or \"burner_watts\" and "
                       "\"burner_percent\" to the kitchen",
                       "nothing says how much power step \"%s\" has", s->id);
    else if (!watts)
        bpi_read_wrong(r, BP_EVALUE, v->at, "add \"watts\": 2000", "\"heat\" needs \"watts\"");
    else if (!percent)
        bpi_read_wrong(r, BP_EVALUE, v->at, "add \"percent\": 74", "\"heat\" needs \"percent\"");
}

void bpi_read_heat(bpi_reader *r, void *into, const bpi_node *v, const bpi_member *m)
{
    bpi_word foods[8] = {{NULL, 0}};
    for (int i = 0; bpi_heating_foods[i].name; i++)
        foods[i] = (bpi_word){bpi_heating_foods[i].name, i};
    const bpi_member members[] = {
        {"amount", read_mass, 0, "\"amount\": \"4 l\"", 0, 0, 0, NULL},
        {"of", bpi_read_word, offsetof(bpi_heating, of), NULL, 0, 0, 0, foods},
        {"from", bpi_read_temperature, offsetof(bpi_heating, from_mC), "\"from\": \"15 C\"", 1000,
         100000, 0, NULL},
        {"to", bpi_read_temperature, offsetof(bpi_heating, to_mC), "\"to\": \"100 C\"", 1000,
         100000, 0, NULL},
        {"watts", bpi_read_count, offsetof(bpi_heating, watts), NULL, 50, 20000, 0, NULL},
        {"percent", bpi_read_count, offsetof(bpi_heating, percent), NULL, 1, 100, 0, NULL},
    };
    (void)m;
    static const struct {
        const char *name, *wrong;
    } apart[] = {{"time", "states its time and has it worked out"},
                 {"cool", "heats and cools at once"}};
    bpi_step *s = into;
    bp_code before = r->code;
    r->code = BP_OK;
    bpi_read_object(r, &s->heat, v, "\"heat\"", BPI_MEMBERS(members));
    read_power(r, s, v);
    if (s->kind != BPI_PASSIVE)
        bpi_read_wrong(r, BP_EVALUE, v->at,
                       "make its \"kind\" \"passive\", or write \"time\" instead",
                       "step \"%s\" is not passive, and its time cannot be worked out", s->id);
    for (size_t i = 0; i < sizeof apart / sizeof *apart; i++)
        if (bpi_node_member(v->parent, apart[i].name))
            bpi_read_wrong(r, BP_EVALUE, v->at, "keep one of the two", "step \"%s\" %s", s->id,
                           apart[i].wrong);
    if (r->code == BP_OK)
        check_heat(r, s, v);
    else
        s->heat.mass_mg = 0;
    r->code = before != BP_OK ? before : r->code;
}
