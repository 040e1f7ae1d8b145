/* src/plan/verify_ticks.c - a plan mended by the log of the day: what it says was done is what was ticked,
 * or what must have been done for that. */
#include <string.h>

#include "plan/verify.h"

/* What the ticks since the plan before say of an operation. */
typedef struct ticked {
    int64_t from, to; /* as whole minutes; BP_NO_TIME: not ticked */
} ticked;

static ticked ticks_of(const bpi_verify *v, const char *key)
{
    const bpi_amends *m = v->amends;
    ticked t = {BP_NO_TIME, BP_NO_TIME};
    for (uint32_t i = 0; i < m->ticks; i++) {
        if (strcmp(m->tick[i].op, key) != 0)
            continue;
        int64_t at = bpi_minute_up(m->tick[i].at);
        if (m->tick[i].what == BPI_TICK_START && t.from == BP_NO_TIME && t.to == BP_NO_TIME)
            t.from = at;
        else if (m->tick[i].what == BPI_TICK_DONE && t.to == BP_NO_TIME)
            t.to = at;
        else if (m->tick[i].what == BPI_TICK_UNDO && t.to != BP_NO_TIME)
            t.to = BP_NO_TIME;
        else if (m->tick[i].what == BPI_TICK_UNDO)
            t.from = BP_NO_TIME;
    }
    return t;
}

static bool is_ticked_kind(bp_op_kind k)
{
    return bpi_is_hands_on(k) && k != BP_OP_STAND_BY;
}

static bool share(const bp_plan *p, const bp_op *a, const bp_op *b)
{
    for (uint32_t i = 0; i < a->serves.n; i++)
        if (bpi_among(p, b->serves, p->index[a->serves.first + i]))
            return true;
    return false;
}

/* Has something of its containers begun after it, or what an oven was heated for? Then it is done. */
static bool is_needed(const bpi_verify *v, const bp_op *op)
{
    const bp_plan *p = v->plan;
    for (uint32_t i = 0; i < p->ops; i++)
        if (p->op[i].from >= op->to && p->op[i].from < v->amends->now &&
            (share(p, op, &p->op[i]) ||
             (op->kind == BP_OP_PREHEAT && p->op[i].kind == BP_OP_OVEN) ||
             bpi_is_warmed_for(v, op, &p->op[i])))
            return true;
    return false;
}

static bool is_help_with(const char *help, const char *key)
{
    size_t len = strlen(key);
    return strncmp(help, key, len) == 0 && strcmp(help + len, "/help") == 0;
}

/* Who helps begins with what they help with: a tick of the one is for the other, too. */
static bool is_ticked_by_help(const bpi_verify *v, const bp_op *op)
{
    for (uint32_t i = 0; i < v->amends->ticks; i++) {
        const char *key = v->amends->tick[i].op;
        if (is_help_with(key, op->key) || is_help_with(op->key, key))
            return true;
    }
    return false;
}

/* A minute's ticks are spread over some: it may have had to give way to what ended before it. */
static bool follows(const bpi_verify *v, const bp_op *op, int64_t at)
{
    const bp_plan *p = v->plan;
    bool after = op->from == at;
    for (uint32_t i = 0; i < p->ops && op->from > at; i++)
        after |= p->op[i].to == op->from && share(p, op, &p->op[i]);
    return after;
}

static void test_begun(bpi_verify *v, const bp_op *op)
{
    const bpi_amends *m = v->amends;
    const bp_op *was = bpi_op_before(v, op->key);
    ticked t = ticks_of(v, op->key);
    bool frozen = m->before->mended && was && was->from == op->from &&
                  was->from < m->before->mended_at && was->person == op->person;
    bool ended = frozen && was->to <= m->before->mended_at;
    if (ended && t.to == BP_NO_TIME) {
        if (was->to != op->to)
            bpi_object(v, op->key, "it has ended another time than it did");
        return;
    }
    if (t.from == BP_NO_TIME && t.to == BP_NO_TIME && !frozen) {
        if (!is_needed(v, op) && !is_ticked_by_help(v, op))
            bpi_object(v, op->key, "it is said to have begun, and nobody ticked it");
        return;
    }
    if (t.from != BP_NO_TIME && !frozen && !follows(v, op, t.from))
        bpi_object(v, op->key, "it began another time than it was ticked");
    if (t.to == BP_NO_TIME && op->to <= m->now && !is_needed(v, op))
        bpi_object(v, op->key, "it is said to have ended, and nobody ticked it");
    if (t.to != BP_NO_TIME && op->to != t.to && op->to != op->from + 60)
        bpi_object(v, op->key, "it ended another time than it was ticked");
}

void bpi_verify_ticks(bpi_verify *v)
{
    const bpi_amends *m = v->amends;
    const bp_plan *p = v->plan;
    for (uint32_t o = 0; o < p->ops; o++) {
        const bp_op *op = &p->op[o];
        if (op->from >= m->now)
            continue;
        const bp_op *was = bpi_op_before(v, op->key);
        if (bpi_for_lost(v, p, op))
            bpi_object(v, op->key, "its container is lost, and it lies in the past");
        if (op->kind != BP_OP_PREHEAT && was && was->person != op->person)
            bpi_object(v, op->key, "it was done by another cook");
        if (is_ticked_kind(op->kind) && op->kind != BP_OP_PREHEAT)
            test_begun(v, op);
    }
    for (uint32_t i = 0; i < m->before->ops; i++) {
        const bp_op *was = &m->before->op[i], *op = bpi_op_of_key(p, was->key);
        ticked t = ticks_of(v, was->key);
        bool begun = t.from != BP_NO_TIME || t.to != BP_NO_TIME ||
                     (m->before->mended && was->from < m->before->mended_at);
        if (begun && is_ticked_kind(was->kind) && was->kind != BP_OP_PREHEAT &&
            !bpi_in_vain(v, was) && (!op || op->from >= m->now))
            bpi_object(v, was->key, "it had begun, and is still to come");
    }
}
