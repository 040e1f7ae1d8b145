/* src/plan/power.c - what is drawn from each electric circuit, when.
 *
 * Owns     plan.circuit and plan.draw; the finding that says who answers for the wiring.
 * May use  plan/fill, plan/heed, prep/, base/.
 */
#include "plan/heed.h"

/* In order of operations; of one operation, of circuits. */
static void put_in_order(bp_draw *list, uint32_t n, bp_draw d)
{
    for (; n > 0 &&
           (list[n - 1].op > d.op || (list[n - 1].op == d.op && list[n - 1].circuit > d.circuit));
         n--)
        list[n] = list[n - 1];
    list[n] = d;
}

/* What job j draws; returns how many. NULL: only counts. */
static uint32_t draws_of(const bpi_fill *f, uint32_t j, bp_draw *list, uint32_t n)
{
    const bp_eng_problem *q = &f->prep->problem;
    const bp_eng_option *o = &q->option[q->activity[j].option0 + f->schedule->option[j]];
    uint32_t found = 0;
    if (bpi_schedule_out(f->prep, f->schedule, j))
        return 0;
    for (uint32_t i = 0; i < o->needs; i++) {
        const bp_eng_need *need = &q->need[o->need0 + i];
        const bpi_res *res = &f->prep->res[need->res];
        if (res->kind != BPI_RES_CIRCUIT)
            continue;
        if (list)
            put_in_order(list, n + found, (bp_draw){f->op_of[j], res->a, (uint32_t)need->amount});
        found++;
    }
    return found;
}

/* Most is drawn where something starts. */
static void find_most(const bp_plan *p, const bp_draw *draw, bp_circuit *c, uint32_t number)
{
    for (uint32_t i = 0; i < p->draws; i++) {
        int64_t at = p->op[draw[i].op].from;
        uint32_t watts = 0;
        for (uint32_t k = 0; k < p->draws; k++) {
            const bp_op *op = &p->op[draw[k].op];
            if (draw[k].circuit == number && op->from <= at && at < op->to)
                watts += draw[k].watts;
        }
        if (watts > c->most) { /* operations stand in order of time */
            c->most = watts;
            c->most_at = at;
        }
    }
}

void bpi_fill_power(bpi_fill *f)
{
    const bpi_kitchen *k = &f->show->kitchen;
    bp_plan *p = f->plan;
    uint32_t n = 0;
    for (uint32_t j = 0; f->schedule && j < f->prep->problem.activities; j++)
        n += draws_of(f, j, NULL, 0);
    bp_circuit *circuit = BPI_FILL(f, k->circuits, bp_circuit);
    bp_draw *draw = BPI_FILL(f, n, bp_draw);
    if (!circuit || !draw)
        return;
    for (uint32_t j = 0; p->draws < n; j++)
        p->draws += draws_of(f, j, draw, p->draws);
    for (uint32_t i = 0; i < k->circuits; i++) {
        const bpi_circuit *c = &k->circuit[i];
        circuit[i] = (bp_circuit){.id = bpi_fill_copy(f, c->id),
                                  .name = bpi_fill_copy(f, c->name),
                                  .amperes = c->amperes,
                                  .volts = c->volts,
                                  .watts = bpi_circuit_watts(c),
                                  .most_at = BP_NO_TIME};
        find_most(p, draw, &circuit[i], i);
    }
    p->circuit = circuit;
    p->circuits = k->circuits;
    p->draw = draw;
}

void bpi_heed_power(bpi_heed *h)
{
    bpi_fill *f = h->f;
    for (uint32_t i = 0; i < f->plan->circuits && !f->failed; i++) {
        const bp_circuit *c = &f->plan->circuit[i];
        if (!c->most)
            continue;
        bpi_text t = BPI_TEXT_EMPTY;
        bpi_text_f(
            &t,
            "circuit %s: at most %u W at once, of %u W (%u A at %u V); by the figures of the "
            "show file alone: plug nothing else in; the electrician and the local code come "
            "first",
            c->name, (unsigned)c->most, (unsigned)c->watts, (unsigned)c->amperes,
            (unsigned)c->volts);
        bp_finding x = {BP_NOTE, BP_NO_INDEX, c->most_at, "", bpi_fill_text(f, &t), ""};
        bpi_heed_finding(h, &x);
    }
}
