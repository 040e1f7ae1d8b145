#include "plan/verify.h"

#include <stdarg.h>
#include <stdio.h>

#define MEASURED_HOLD 14400 /* s on the counter or on set: common practice, no source */

void bpi_object(bpi_verify *v, const char *what, const char *form, ...)
{
    char text[200];
    va_list args;
    va_start(args, form);
    vsnprintf(text, sizeof text, form, args);
    va_end(args);
    v->objected = true;
    bpi_error_f(v->errs, BP_EINTERNAL, BPI_NOWHERE, "", "%s: %s", what, text);
}

int64_t bpi_minute_down(int64_t seconds)
{
    int64_t over = seconds % 60;
    return seconds - (over < 0 ? over + 60 : over);
}

int64_t bpi_minute_up(int64_t seconds)
{
    return -bpi_minute_down(-seconds);
}

uint32_t bpi_among(const bp_plan *p, bp_slice slice, uint32_t number)
{
    uint32_t times = 0;
    for (uint32_t i = 0; i < slice.n; i++)
        times += p->index[slice.first + i] == number;
    return times;
}

bool bpi_is_hands_on(bp_op_kind kind)
{
    return kind != BP_OP_PASSIVE && kind != BP_OP_OVEN && kind != BP_OP_WAIT && kind != BP_OP_SET;
}

const bpi_dish *bpi_dish_of(const bpi_verify *v, uint32_t container)
{
    const bp_container *c = &v->plan->container[container];
    return &v->show->segment[v->segment[c->air]].dish[v->dish[container]];
}

int64_t bpi_slot_end(const bpi_verify *v, uint32_t air)
{
    return v->plan->air[air].hit + v->plan->air[air].slot;
}

int64_t bpi_slot_latest(const bpi_verify *v, uint32_t air)
{
    return bpi_slot_end(v, air) + v->show->segment[v->segment[air]].floats;
}

int64_t bpi_set_hold(const bpi_recipe *recipe, uint64_t steps)
{
    if (steps == 0)
        return MEASURED_HOLD;
    int64_t hold = BPI_NO_LIMIT;
    for (uint32_t s = 0; s < recipe->steps; s++) {
        bool last = steps >> s & 1;
        for (uint32_t t = 0; t < recipe->steps; t++)
            if ((steps >> t & 1) && (recipe->step[t].before_all >> s & 1))
                last = false;
        if (last && recipe->step[s].hold_set < hold)
            hold = recipe->step[s].hold_set;
    }
    return hold;
}

static bool on_the_counter(const bpi_verify *v, const bp_op *op)
{
    for (uint32_t i = 0; i < op->uses.n; i++)
        if (v->plan->thing[v->plan->index[op->uses.first + i]].kind == BP_PLACE_COUNTER)
            return true;
    return false;
}

int64_t bpi_keeps_until(const bpi_verify *v, uint32_t c)
{
    const bp_plan *p = v->plan;
    int64_t carried = BP_NO_TIME, hold = bpi_set_hold(v->recipe[c], p->container[c].steps);
    for (uint32_t o = 0; o < p->ops; o++)
        if (p->op[o].kind == BP_OP_CARRY && bpi_among(p, p->op[o].serves, c))
            carried = p->op[o].from;
    for (uint32_t o = 0; o < p->ops; o++) {
        const bp_op *op = &p->op[o];
        bool bowls = op->kind == BP_OP_MEASURE && op->to == carried;
        bool waits = op->kind == BP_OP_WAIT && op->to == carried && on_the_counter(v, op);
        if (!bpi_among(p, op->serves, c) || (!bowls && !waits))
            continue;
        int64_t room = MEASURED_HOLD, waited = bowls ? 0 : op->to - op->from;
        if (waits && v->step[o] != BPI_NO_INDEX) {
            const bpi_step *s = &v->recipe[c]->step[v->step[o]];
            if (!s->hold_stated)
                continue;
            room = s->hold[BPI_COUNTER] > s->hold_set ? s->hold[BPI_COUNTER] : s->hold_set;
        }
        if (room != BPI_NO_LIMIT && room - waited < hold)
            hold = room - waited;
    }
    return hold == BPI_NO_LIMIT ? hold : p->container[c].on_set + hold;
}

uint64_t bpi_on_air(const bpi_verify *v, uint32_t c)
{
    const bp_plan *p = v->plan;
    uint64_t steps = 0;
    for (uint32_t k = 0; k < p->beats; k++)
        for (uint32_t i = 0; bpi_among(p, p->beat[k].on, c) && i < v->want[k].does_n; i++)
            if (v->want[k].dish == v->dish[c])
                steps |= UINT64_C(1) << v->want[k].does[i];
    return steps & ~p->container[c].steps;
}
