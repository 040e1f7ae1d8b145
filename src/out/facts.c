#include "out/facts.h"

#include <stdio.h>
#include <string.h>

#include "base/civil.h"

const char *bpi_fact_keep(bpi_arena *a, bpi_text *t)
{
    const char *s = t->failed ? NULL : bpi_arena_copy(a, t->s ? t->s : "", t->len);
    bpi_text_release(t);
    return s;
}

char *bpi_fact_date(char out[BPI_FACT_DATE_ROOM], const bp_plan *plan)
{
    bpi_date date = {plan->year, plan->month, plan->day};
    snprintf(out, BPI_FACT_DATE_ROOM, "%s %d %s %d",
             bpi_civil_day_name(bpi_civil_weekday(bpi_civil_days(date))), plan->day,
             bpi_civil_month_name(plan->month), plan->year);
    return out;
}

char *bpi_fact_clock(char out[BP_CLOCK_ROOM], const bp_plan *plan, int64_t t)
{
    bp_plan_clock(out, plan, t);
    char *colon = strchr(out, ':');
    if (colon && strlen(colon) >= 3 && colon[3] != ':' && strlen(out) + 4 <= BP_CLOCK_ROOM) {
        memmove(colon + 6, colon + 3, strlen(colon + 3) + 1);
        colon[3] = ':';
        colon[4] = colon[5] = '0';
    }
    return out;
}

char *bpi_fact_minutes(char out[BP_CLOCK_ROOM], int64_t seconds)
{
    const char *sign = seconds < 0 ? "-" : "";
    int64_t s = seconds < 0 ? -seconds : seconds;
    snprintf(out, BP_CLOCK_ROOM, "%s%lld:%02d", sign, (long long)(s / 60), (int)(s % 60));
    return out;
}

char *bpi_fact_chance(char out[BP_CLOCK_ROOM], uint32_t n, uint32_t days)
{
    unsigned tenths = days ? (unsigned)((uint64_t)n * 1000 / days) : 0;
    if (n == days || n == 0)
        snprintf(out, BP_CLOCK_ROOM, "%s", n ? "100 %" : "0 %");
    else if (tenths == 0)
        snprintf(out, BP_CLOCK_ROOM, "under 0.1 %%");
    else
        snprintf(out, BP_CLOCK_ROOM, "%u.%u %%", tenths / 10, tenths % 10);
    return out;
}

bool bpi_fact_warns(const bp_plan *plan)
{
    return plan->verdict != BP_PLANNED || plan->stopped;
}

const char *bpi_fact_late(bpi_arena *a, const bp_plan *plan)
{
    bpi_text t = BPI_TEXT_EMPTY;
    char length[BP_CLOCK_ROOM];
    if (plan->stopped)
        bpi_text_put(&t, "DO NOT USE: food safety forbids this plan");
    if (plan->verdict != BP_PLANNED)
        bpi_text_f(&t, "%s%s", plan->stopped ? ". " : "",
                   plan->verdict == BP_LATE ? "LATE PLAN" : "NO PLAN");
    const char *between = ": ";
    for (uint32_t i = 0; i < plan->containers; i++) {
        const bp_container *c = &plan->container[i];
        if (c->late <= 0)
            continue;
        bpi_text_f(&t, "%s%s %s late", between, c->code, bp_length_text(length, c->late));
        between = ", ";
    }
    return bpi_fact_keep(a, &t);
}

const char *bpi_fact_container(bpi_arena *a, const bp_plan *plan, uint32_t container)
{
    const bp_container *c = &plan->container[container];
    const char *stage = bp_stage_name(c->stage);
    bpi_text t = BPI_TEXT_EMPTY;
    bpi_text_f(&t, "%s, %s", c->dish < plan->dishes ? plan->dish[c->dish].title : "", stage);
    if (*c->state && strcmp(c->state, stage) != 0)
        bpi_text_f(&t, ", %s", c->state);
    return bpi_fact_keep(a, &t);
}

const char *bpi_fact_codes(bpi_arena *a, const bp_plan *plan, bp_slice containers)
{
    bpi_text t = BPI_TEXT_EMPTY;
    for (uint32_t i = 0; i < containers.n; i++)
        bpi_text_f(&t, "%s%s", i ? " " : "",
                   plan->container[plan->index[containers.first + i]].code);
    return bpi_fact_keep(a, &t);
}

bool bpi_fact_hands_on(bp_op_kind kind)
{
    return kind != BP_OP_PASSIVE && kind != BP_OP_OVEN && kind != BP_OP_WAIT && kind != BP_OP_SET;
}

bool bpi_fact_serves(const bp_plan *plan, uint32_t op, uint32_t container)
{
    bp_slice s = plan->op[op].serves;
    for (uint32_t i = 0; i < s.n; i++)
        if (plan->index[s.first + i] == container)
            return true;
    return false;
}

static bool share_a_container(const bp_plan *plan, uint32_t a, uint32_t b)
{
    bp_slice s = plan->op[a].serves;
    for (uint32_t i = 0; i < s.n; i++)
        if (bpi_fact_serves(plan, b, plan->index[s.first + i]))
            return true;
    return false;
}

static void put_beside(bpi_text *out, const bp_plan *plan, const bp_op *op)
{
    char from[BP_CLOCK_ROOM], to[BP_CLOCK_ROOM];
    bpi_text_put(out, op->watch ? "watch " : "");
    for (uint32_t i = 0; i < op->serves.n; i++)
        bpi_text_f(out, "%s ", plan->container[plan->index[op->serves.first + i]].code);
    bpi_text_f(out, "%s, %s to %s", op->text, bp_plan_clock(from, plan, op->from),
               bp_plan_clock(to, plan, op->to));
}

void bpi_fact_meanwhile(bpi_text *out, const bp_plan *plan, const bp_op *op)
{
    const char *lead = op->watch ? " Meanwhile: " : "Meanwhile: ";
    if (op->watch)
        bpi_text_f(out, "Watch it, with %u %% of your attention.", (unsigned)op->watch);
    for (uint32_t i = 0; (op->watch || op->light) && i < plan->ops; i++) {
        const bp_op *o = &plan->op[i];
        if (o == op || o->person != op->person || o->to <= op->from || op->to <= o->from)
            continue;
        bpi_text_put(out, lead);
        put_beside(out, plan, o);
        lead = "; ";
    }
}

uint32_t bpi_fact_before(const bp_plan *plan, uint32_t op, bool person)
{
    uint32_t best = BP_NO_INDEX;
    for (uint32_t i = 0; i < plan->ops; i++) {
        const bp_op *o = &plan->op[i];
        if (i == op || o->to > plan->op[op].from || o->kind == BP_OP_WAIT || o->kind == BP_OP_SET)
            continue;
        if ((person && o->person == BP_NO_INDEX) || !share_a_container(plan, op, i))
            continue;
        if (best == BP_NO_INDEX || o->to > plan->op[best].to)
            best = i;
    }
    return best;
}

uint32_t bpi_fact_after(const bp_plan *plan, uint32_t op)
{
    for (uint32_t i = 0; i < plan->ops; i++) /* by start: the first is the one */
        if (i != op && plan->op[i].from >= plan->op[op].to && bpi_fact_hands_on(plan->op[i].kind) &&
            share_a_container(plan, op, i))
            return i;
    return BP_NO_INDEX;
}

uint32_t bpi_fact_person(const bp_plan *plan, uint32_t op)
{
    if (plan->op[op].person != BP_NO_INDEX)
        return plan->op[op].person;
    uint32_t other = bpi_fact_before(plan, op, true);
    if (other == BP_NO_INDEX)
        other = bpi_fact_after(plan, op);
    return other == BP_NO_INDEX ? BP_NO_INDEX : plan->op[other].person;
}

uint32_t bpi_fact_carry(const bp_plan *plan, uint32_t container)
{
    for (uint32_t i = 0; i < plan->ops; i++)
        if (plan->op[i].kind == BP_OP_CARRY && bpi_fact_serves(plan, i, container))
            return i;
    return BP_NO_INDEX;
}
