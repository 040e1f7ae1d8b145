/* src/plan/verify_goal.c - the objectives: what the plan says it reached is what it reached. */
#include <string.h>

#include "plan/verify.h"

static const bp_goal *goal_of(const bp_plan *p, const char *name)
{
    for (uint32_t i = 0; i < p->goals; i++)
        if (strcmp(p->goal[i].name, name) == 0)
            return &p->goal[i];
    return NULL;
}

/* Minutes from each first operation of a cook to the end of the last slot, or their wrap; on a day
 * before, to the end of their work. */
static int64_t crew_minutes(const bpi_verify *v)
{
    const bp_plan *p = v->plan;
    int64_t end = INT64_MIN, sum = 0;
    for (uint32_t i = 0; i < p->airs; i++)
        end = bpi_slot_latest(v, i) > end ? bpi_slot_latest(v, i) : end;
    for (uint32_t i = 0; i < p->stints; i++) {
        const bp_stint *t = &p->stint[i];
        int64_t until = bpi_minute_up(end), last = INT64_MIN;
        if (t->wrap < until)
            until = bpi_minute_down(t->wrap);
        for (uint32_t o = 0; o < p->ops; o++)
            if (p->op[o].person == t->person && p->op[o].from >= t->earliest &&
                p->op[o].from <= t->release && p->op[o].to > last)
                last = p->op[o].to;
        sum += ((t->wrap > 0 ? until : last) - t->call) / 60;
    }
    return sum;
}

/* Minutes past set-by, each container rounded for itself. */
static int64_t late_minutes(const bpi_verify *v)
{
    int64_t sum = 0;
    for (uint32_t i = 0; i < v->plan->containers; i++) {
        const bp_container *c = &v->plan->container[i];
        int64_t by = bpi_minute_down(c->set_by);
        sum += c->on_set > by ? (c->on_set - by) / 60 : 0;
    }
    return sum;
}

void bpi_verify_goal(bpi_verify *v)
{
    const bp_plan *p = v->plan;
    for (uint32_t i = 0; i < p->goals; i++) {
        const bp_goal *g = &p->goal[i];
        if (g->bound > g->value)
            bpi_object(v, g->name, "the goal is better than what is proved possible");
        if (g->proved != (g->bound == g->value) && g->proved)
            bpi_object(v, g->name, "it is called proved, and value and bound differ");
        if (p->proved && !g->proved)
            bpi_object(v, g->name, "the plan is called proved, and this goal is not");
    }
    const bp_goal *late = goal_of(p, "late"), *crew = goal_of(p, "crew time");
    if (!late || !crew) {
        bpi_object(v, "goals", "lateness or crew time is not told");
        return;
    }
    if (late->value < late_minutes(v) || (late->value > 0) != (p->verdict == BP_LATE))
        bpi_object(v, late->name, "%lld min is told, containers are %lld min late",
                   (long long)late->value, (long long)late_minutes(v));
    if (crew->value != crew_minutes(v))
        bpi_object(v, crew->name, "%lld min is told, %lld are planned", (long long)crew->value,
                   (long long)crew_minutes(v));
    if (p->verdict != BP_LATE && p->verdict != BP_PLANNED)
        bpi_object(v, "verdict", "operations are planned, and none is said to exist");
}
