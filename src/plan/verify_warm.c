/* src/plan/verify_warm.c - hot places that are heated: on, and hot, before anything stands there. */
#include <string.h>

#include "plan/verify.h"

#define NIGHT 14400 /* s: without anybody's shift, it parts two working days */

/* It is known by its key: the place's, with a number from 2 on a later day than the first. */
static bool switches_on(const bp_op *op, const bpi_place *place)
{
    static const char start[] = "place/", end[] = "/warm-up";
    size_t len = strlen(place->id), at = sizeof start - 1 + len;
    if (op->kind != BP_OP_WARM_UP || strncmp(op->key, start, sizeof start - 1) != 0 ||
        strncmp(op->key + sizeof start - 1, place->id, len) != 0 ||
        strncmp(op->key + at, end, sizeof end - 1) != 0)
        return false;
    const char *rest = op->key + at + sizeof end - 1;
    return rest[0] == '\0' ||
           (rest[0] == '/' && strspn(rest + 1, "0123456789") == strlen(rest + 1));
}

static bool stands_in(const bpi_verify *v, const bp_op *op, const bpi_place *place)
{
    for (uint32_t i = 0; i < op->uses.n; i++) {
        const bp_thing *t = &v->plan->thing[v->plan->index[op->uses.first + i]];
        if (t->kind == BP_PLACE_HOT && strcmp(t->id, place->id) == 0)
            return true;
    }
    return false;
}

bool bpi_is_warmed_for(const bpi_verify *v, const bp_op *warm_up, const bp_op *op)
{
    const bpi_kitchen *k = &v->show->kitchen;
    for (uint32_t i = 0; i < k->places; i++)
        if (switches_on(warm_up, &k->place[i]) && stands_in(v, op, &k->place[i]))
            return true;
    return false;
}

/* Is there a night after `from` that begins before `to`: four hours or more with nobody's shift? */
static bool has_night(const bpi_verify *v, int64_t from, int64_t to)
{
    const bpi_kitchen *k = &v->show->kitchen;
    for (uint32_t c = 0; c < k->cooks; c++)
        for (uint32_t s = 0; s < k->cook[c].shifts; s++) {
            int64_t wrap = k->cook[c].shift[s].wrap, call = INT64_MAX;
            bool empty = true;
            for (uint32_t i = 0; i < k->cooks; i++)
                for (uint32_t n = 0; n < k->cook[i].shifts; n++) {
                    const bpi_shift *x = &k->cook[i].shift[n];
                    empty &= wrap < x->call || x->wrap <= wrap;
                    call = x->call > wrap && x->call < call ? x->call : call;
                }
            int64_t middle = bpi_minute_down(wrap + (call - wrap) / 2);
            if (empty && call != INT64_MAX && call - wrap >= NIGHT && from < middle && middle <= to)
                return true;
        }
    return false;
}

/* The last time that it was switched on before t; NULL: never. */
static const bp_op *last_on(const bpi_verify *v, const bpi_place *place, int64_t t)
{
    const bp_op *last = NULL;
    for (uint32_t o = 0; o < v->plan->ops; o++) {
        const bp_op *op = &v->plan->op[o];
        if (switches_on(op, place) && op->to <= t && (!last || op->to > last->to))
            last = op;
    }
    return last;
}

static void test_stand(bpi_verify *v, const bpi_place *place, const bp_op *op)
{
    const bp_op *on = last_on(v, place, op->from);
    if (bpi_is_past(v, op))
        return;
    if (!on || op->from - on->to < (int64_t)bpi_place_warms(place) * 60)
        bpi_object(v, op->key, "place %s is not hot then", place->id);
    else if (has_night(v, on->from, op->to - 60))
        bpi_object(v, op->key, "place %s is on over a night", place->id);
}

static void test_place(bpi_verify *v, const bpi_place *place)
{
    const bp_plan *p = v->plan;
    for (uint32_t o = 0; o < p->ops; o++) {
        if (stands_in(v, &p->op[o], place))
            test_stand(v, place, &p->op[o]);
        if (!switches_on(&p->op[o], place) || v->amends)
            continue; /* on a mended day it may have been switched on for what is lost */
        bool used = false, again = false;
        for (uint32_t k = 0; k < p->ops; k++) {
            used |= stands_in(v, &p->op[k], place) && last_on(v, place, p->op[k].from) == &p->op[o];
            again |= switches_on(&p->op[k], place) && p->op[k].from > p->op[o].from &&
                     !has_night(v, p->op[o].from, p->op[k].from);
        }
        if (!used)
            bpi_object(v, p->op[o].key, "nothing stands there then");
        if (again)
            bpi_object(v, p->op[o].key, "it is switched on once more on that day");
    }
}

void bpi_verify_warm(bpi_verify *v)
{
    const bpi_kitchen *k = &v->show->kitchen;
    for (uint32_t i = 0; i < k->places; i++)
        if (k->place[i].heat_mC_min)
            test_place(v, &k->place[i]);
    for (uint32_t o = 0; o < v->plan->ops; o++) {
        bool known = v->plan->op[o].kind != BP_OP_WARM_UP;
        for (uint32_t i = 0; i < k->places; i++)
            known |= k->place[i].heat_mC_min && switches_on(&v->plan->op[o], &k->place[i]);
        if (!known)
            bpi_object(v, v->plan->op[o].key, "the show has no such place that is heated");
    }
}
