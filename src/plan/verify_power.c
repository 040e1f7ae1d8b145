/* src/plan/verify_power.c - no electric circuit carries more than it may; what the plan tells of it. */
#include <string.h>

#include "plan/verify.h"

/* What an operation draws from a circuit, by the show: burners while food is put on them and stands
 * there, tools and vessels in a step itself. */
static uint32_t drawn(const bpi_verify *v, uint32_t o, uint32_t circuit)
{
    const bp_op *op = &v->plan->op[o];
    const bpi_kitchen *k = &v->show->kitchen;
    bool main = op->kind == BP_OP_ACTIVE || op->kind == BP_OP_PASSIVE || op->kind == BP_OP_OVEN;
    if (v->step[o] == BPI_NO_INDEX || (!main && op->kind != BP_OP_LOAD))
        return 0;
    const bpi_step *s = &v->recipe[v->plan->index[op->serves.first]]->step[v->step[o]];
    uint32_t watts = s->burner && k->burner_circuit == circuit ? k->burner_watts : 0;
    for (uint32_t i = 0; i < s->tools && main; i++)
        if (k->tool[s->tool[i]].circuit == circuit)
            watts += k->tool[s->tool[i]].watts;
    return watts;
}

static void test_told(bpi_verify *v, uint32_t o, uint32_t circuit)
{
    const bp_plan *p = v->plan;
    uint32_t told = 0, is = drawn(v, o, circuit);
    for (uint32_t i = 0; i < p->draws; i++)
        if (p->draw[i].op == o && p->draw[i].circuit == circuit)
            told += p->draw[i].watts;
    if (told != is)
        bpi_object(v, p->op[o].key, "it is told to draw %u W from %s, and draws %u W", told,
                   p->circuit[circuit].id, is);
}

static void test_circuit(bpi_verify *v, uint32_t c)
{
    const bp_plan *p = v->plan;
    const bp_circuit *told = &p->circuit[c];
    const bpi_circuit *is = &v->show->kitchen.circuit[c];
    uint32_t carries = is->amperes * is->volts, most = 0;
    int64_t most_at = BP_NO_TIME;
    if (strcmp(told->id, is->id) != 0 || told->amperes != is->amperes || told->volts != is->volts ||
        told->watts != carries)
        bpi_object(v, told->id, "it is not the circuit of the show, %s of %u W", is->id, carries);
    for (uint32_t o = 0; o < p->ops; o++) { /* most is drawn where something starts */
        uint32_t watts = 0;
        test_told(v, o, c);
        for (uint32_t k = 0; k < p->ops && drawn(v, o, c); k++)
            if (p->op[k].from <= p->op[o].from && p->op[o].from < p->op[k].to)
                watts += drawn(v, k, c);
        if (watts > carries && !bpi_is_past(v, &p->op[o]))
            bpi_object(v, p->op[o].key, "%u W are drawn from %s at once, it carries %u", watts,
                       is->id, carries);
        if (watts > most) {
            most = watts;
            most_at = p->op[o].from;
        }
    }
    if (told->most != most || told->most_at != most_at)
        bpi_object(v, told->id, "it tells otherwise of the most that is drawn, %u W", most);
}

void bpi_verify_power(bpi_verify *v)
{
    const bp_plan *p = v->plan;
    if (p->circuits != v->show->kitchen.circuits) {
        bpi_object(v, "circuits", "the plan has %u, the show %u", p->circuits,
                   v->show->kitchen.circuits);
        return;
    }
    for (uint32_t i = 0; i < p->draws; i++)
        if (p->draw[i].op >= p->ops || p->draw[i].circuit >= p->circuits)
            bpi_object(v, "draws", "number %u refers to nothing", i);
    for (uint32_t c = 0; c < p->circuits; c++)
        test_circuit(v, c);
}
