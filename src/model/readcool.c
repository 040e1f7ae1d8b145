/* src/model/readcool.c - how a step cools food.
 *
 * Owns     "cool" of a step.
 * May use  base/, model/read, model/quantity, model/thermal.
 */
#include "model/read.h"
#include "model/thermal.h"

#include <stddef.h>
#include <stdio.h>
#include <string.h>

#define DEEPEST INT64_C(500000) /* um: half a metre */
#define DAY     86400
#define MINUTE  60

/* What is around the food where the show does not say: a refrigerator at 37 °F, as FDA tables of
 * cooling have it; ice water; the others common practice, no source. A blast chiller differs too
 * much from the next. */
static const struct {
    bpi_cool_in in;
    int32_t around_mC;
} usual[] = {{BPI_COOL_ROOM, 21000},
             {BPI_COOL_REFRIGERATOR, 2800},
             {BPI_COOL_FREEZER, -18000},
             {BPI_COOL_ICE_BATH, 0}};

/* "5 cm", "2 in", "1 1/2 in", "60 mm". */
static void read_depth(bpi_reader *r, void *into, const bpi_node *v, const bpi_member *m)
{
    static const struct {
        const char *unit;
        int64_t um;
    } units[] = {{" cm", 10000}, {" mm", 1000}, {" in", 25400}};
    static const char right[] = "write it like \"5 cm\" or \"2 in\", up to 50 cm";
    int64_t num = 0, den = 1;
    if (!bpi_read_is_text(r, v, m->name, right))
        return;
    for (size_t i = 0; i < sizeof units / sizeof *units; i++) {
        size_t end = strlen(units[i].unit);
        bpi_fault f = {0, "", ""};
        if (v->len <= end || strcmp(v->text + v->len - end, units[i].unit) != 0)
            continue;
        if (!bpi_fraction_read(&num, &den, v->text, v->len - end, &f)) {
            bpi_read_fault(r, v, &f);
            return;
        }
        int64_t um = num * units[i].um / den;
        if (um < 1000 || um > DEEPEST)
            bpi_read_wrong(r, BP_ERANGE, v->at, right, "\"%s\" cannot be %s", m->name, v->text);
        else
            *(int64_t *)(void *)((char *)into + m->field) = um;
        return;
    }
    bpi_read_wrong(r, BP_EVALUE, v->at, right, "\"%s\" is a length in cm, mm or in", m->name);
}

static void read_reading(bpi_reader *r, void *into, const bpi_node *v, const bpi_member *m)
{
    static const bpi_member members[] = {
        {"from", bpi_read_temperature, offsetof(bpi_cool, read_mC[0]), "\"from\": \"90 C\"", -40000,
         120000, 0, NULL},
        {"then", bpi_read_temperature, offsetof(bpi_cool, read_mC[1]), "\"then\": \"60 C\"", -40000,
         120000, 0, NULL},
        {"after", bpi_read_span_member, offsetof(bpi_cool, read_s), "\"after\": \"30 min\"", 60,
         86400, 0, NULL},
    };
    (void)m;
    bpi_read_object(r, into, v, "a reading", BPI_MEMBERS(members));
}

static void check_reading(bpi_reader *r, const bpi_cool *c, const bpi_node *v)
{
    if (c->read_s && c->read_mC[0] != BPI_NO_TEMP && c->read_mC[1] != BPI_NO_TEMP &&
        !(c->around_mC < c->read_mC[1] && c->read_mC[1] < c->read_mC[0]))
        bpi_read_wrong(r, BP_EVALUE, v->at,
                       "write a \"then\" below \"from\" and above what is around the food",
                       "the reading does not cool towards what is around it");
}

/* The time of the step is what the model makes of it, in whole minutes. */
static void work_out(bpi_reader *r, bpi_step *s, const bpi_node *v)
{
    const bpi_cool *c = &s->cool;
    if (s->kind != BPI_PASSIVE)
        bpi_read_wrong(r, BP_EVALUE, v->at,
                       "make its \"kind\" \"passive\", or write \"time\" instead",
                       "step \"%s\" is not passive, and its time cannot be worked out", s->id);
    else if (bpi_node_member(v->parent, "time"))
        bpi_read_wrong(r, BP_EVALUE, v->at, "keep one of the two",
                       "step \"%s\" states its time and has it worked out", s->id);
    else if (c->from_mC == BPI_NO_TEMP)
        bpi_read_wrong(r, BP_EVALUE, v->at, "add \"from\": \"90 C\"",
                       "nothing says how hot it is when step \"%s\" begins", s->id);
    else if (c->around_mC >= c->to_mC || c->to_mC >= c->from_mC)
        bpi_read_wrong(r, BP_EVALUE, v->at,
                       "write a \"to\" below \"from\" and above what is around the food",
                       "step \"%s\" never cools to that", s->id);
    else {
        int64_t seconds = bpi_thermal_until(c->from_mC, c->to_mC, c->around_mC, bpi_thermal_of(c));
        int64_t whole = (seconds + MINUTE - 1) / MINUTE * MINUTE;
        if (seconds > DAY)
            bpi_read_wrong(r, BP_ERANGE, v->at, "spread it thinner, or in an ice bath",
                           "step \"%s\" would cool for more than a day", s->id);
        else {
            s->time = (bpi_length){whole, whole, whole, false, false, v->at};
            s->time_where = v->at;
        }
    }
}

void bpi_read_cool(bpi_reader *r, void *into, const bpi_node *v, const bpi_member *m)
{
    static const bpi_word ins[] = {
        {"room", BPI_COOL_ROOM},         {"refrigerator", BPI_COOL_REFRIGERATOR},
        {"freezer", BPI_COOL_FREEZER},   {"blast chiller", BPI_COOL_CHILLER},
        {"ice bath", BPI_COOL_ICE_BATH}, {NULL, 0}};
    static const bpi_member members[] = {
        {"in", bpi_read_word, offsetof(bpi_cool, in), "\"in\": \"refrigerator\"", 0, 0, 0, ins},
        {"depth", read_depth, offsetof(bpi_cool, depth_um), "\"depth\": \"5 cm\"", 0, 0, 0, NULL},
        {"around", bpi_read_temperature, offsetof(bpi_cool, around_mC), NULL, -60000, 30000, 0,
         NULL},
        {"from", bpi_read_temperature, offsetof(bpi_cool, from_mC), NULL, 0, 120000, 0, NULL},
        {"to", bpi_read_temperature, offsetof(bpi_cool, to_mC), NULL, -60000, 120000, 0, NULL},
        {"reading", read_reading, 0, NULL, 0, 0, 0, NULL},
    };
    (void)m;
    bpi_step *s = into;
    bpi_cool *c = &s->cool;
    c->around_mC = c->from_mC = c->to_mC = c->read_mC[0] = c->read_mC[1] = BPI_NO_TEMP;
    bp_code before = r->code;
    bpi_read_object(r, c, v, "\"cool\"", BPI_MEMBERS(members));
    for (size_t i = 0; i < sizeof usual / sizeof *usual && c->around_mC == BPI_NO_TEMP; i++)
        if (usual[i].in == c->in)
            c->around_mC = usual[i].around_mC;
    if (s->kind == BPI_OVEN || s->burner)
        bpi_read_wrong(r, BP_EVALUE, v->at, "take it out, or make a step of its own of it",
                       "step \"%s\" is on the heat and cools at once", s->id);
    if (r->code != before)
        return;
    if (c->around_mC == BPI_NO_TEMP) {
        bpi_read_wrong(r, BP_EVALUE, v->at, "add \"around\": \"-5 C\"",
                       "a blast chiller needs \"around\"");
        return;
    }
    const bpi_node *reading = bpi_node_member(v, "reading");
    if (reading)
        check_reading(r, c, reading);
    if (r->code == before && c->to_mC != BPI_NO_TEMP)
        work_out(r, s, v);
}
