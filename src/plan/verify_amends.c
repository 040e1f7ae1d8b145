/* src/plan/verify_amends.c - a mended plan: the past stands as it was, and nothing asks for what is
 * not there any more. */
#include <stdio.h>
#include <string.h>

#include "plan/verify.h"

const bp_op *bpi_op_of_key(const bp_plan *p, const char *key)
{
    for (uint32_t i = 0; i < p->ops; i++)
        if (strcmp(p->op[i].key, key) == 0)
            return &p->op[i];
    return NULL;
}

const bp_op *bpi_op_before(const bpi_verify *v, const char *key)
{
    return bpi_op_of_key(v->amends->before, key);
}

static bool told(const bpi_verify *v, const bp_op *op, uint32_t step, int64_t *to)
{
    for (uint32_t i = 0; i < v->amends->longers; i++) {
        const struct bpi_longer *l = &v->amends->longer[i];
        bool helps = op->kind == BP_OP_HELP && /* with all of it */
                     v->recipe[l->container]->step[l->step].help_time == 0;
        if (l->step == step && bpi_among(v->plan, op->serves, l->container) &&
            (helps || op->kind == BP_OP_ACTIVE || op->kind == BP_OP_PASSIVE ||
             op->kind == BP_OP_OVEN)) {
            *to = l->to;
            return true;
        }
    }
    return false;
}

int64_t bpi_told(const bpi_verify *v, uint32_t o)
{
    int64_t to = 0;
    return v->amends && told(v, &v->plan->op[o], v->step[o], &to) ? to : BP_NO_TIME;
}

bool bpi_is_given(const bpi_verify *v, uint32_t o)
{
    if (!v->amends)
        return false;
    const bp_op *op = &v->plan->op[o], *was = bpi_op_before(v, op->key);
    int64_t to = 0;
    if (bpi_is_past(v, op))
        return true;
    if (told(v, op, v->step[o], &to) && op->from < v->amends->now)
        return true;
    return was && was->from == op->from && was->to == op->to && op->from < v->amends->now;
}

bool bpi_is_past(const bpi_verify *v, const bp_op *op)
{
    return v->amends && v->amends->ticked && op->from < v->amends->now;
}

bool bpi_runs_over(const bpi_verify *v, const bp_op *op, int64_t most)
{
    int64_t so_far = v->amends ? v->amends->now - op->from : 0, lasts = op->to - op->from;
    if (!bpi_is_past(v, op))
        return lasts > most;
    const bp_op *was = bpi_op_before(v, op->key);
    if (was && was->to - was->from == lasts) /* for one more, who is lost now */
        return false;
    return op->to > v->amends->now && lasts > most && lasts > so_far + 60 &&
           v->plan->verdict != BP_LATE;
}

bool bpi_for_lost(const bpi_verify *v, const bp_plan *p, const bp_op *op)
{
    for (uint32_t i = 0; i < op->serves.n; i++)
        if (v->amends->lost[p->index[op->serves.first + i]])
            return true;
    return false;
}

/* A washing says in its key whose vessel it was. */
static bool washes_lost(const bpi_verify *v, const bp_op *op)
{
    const bp_plan *p = v->amends->before;
    for (uint32_t c = 0; c < p->containers && op->kind == BP_OP_WASH; c++) {
        char kitchen[32], set[32];
        snprintf(kitchen, sizeof kitchen, "/%s/wash/", p->container[c].code);
        snprintf(set, sizeof set, "/%s.wash/", p->container[c].code);
        if (v->amends->lost[c] && (strstr(op->key, kitchen) || strstr(op->key, set)))
            return true;
    }
    return false;
}

bool bpi_in_vain(const bpi_verify *v, const bp_op *op)
{
    const bp_plan *p = v->amends->before;
    for (uint32_t i = 0; i < op->serves.n; i++)
        if (!v->amends->lost[p->index[op->serves.first + i]])
            return false;
    return op->serves.n > 0 || washes_lost(v, op);
}

static bool stretches(bp_op_kind k)
{
    return k == BP_OP_WAIT || k == BP_OP_SET || k == BP_OP_PASSIVE || k == BP_OP_OVEN;
}

static const bp_op *preheat_at(const bp_plan *p, const bp_op *like)
{
    for (uint32_t i = 0; i < p->ops; i++)
        if (p->op[i].kind == BP_OP_PREHEAT && p->op[i].from == like->from &&
            p->op[i].person == like->person)
            return &p->op[i];
    return NULL;
}

/* What began before now, in either plan, is in both, by the same hands. */
static void test_past(bpi_verify *v)
{
    const bpi_amends *m = v->amends;
    const bp_plan *p = v->plan;
    for (uint32_t o = 0; o < p->ops; o++) {
        const bp_op *op = &p->op[o];
        if (op->from >= m->now)
            continue;
        const bp_op *was =
            op->kind == BP_OP_PREHEAT ? preheat_at(m->before, op) : bpi_op_before(v, op->key);
        int64_t to = 0;
        if (bpi_for_lost(v, p, op))
            bpi_object(v, op->key, "its container is lost, and it lies in the past");
        else if (!was || was->from != op->from || was->person != op->person)
            bpi_object(v, op->key, "it is said to have begun, and was not planned so");
        else if (told(v, op, v->step[o], &to) && op->to != to)
            bpi_object(v, op->key, "it does not last as long as was said");
        else if (was->to != op->to && !told(v, op, v->step[o], &to) &&
                 (was->to < m->now || op->to < m->now || !stretches(op->kind)))
            bpi_object(v, op->key, "it has ended another time than was planned");
    }
    for (uint32_t o = 0; o < m->before->ops; o++) {
        const bp_op *was = &m->before->op[o];
        if (was->from >= m->now || bpi_in_vain(v, was) || was->kind == BP_OP_PREHEAT)
            continue;
        bool there = false;
        for (uint32_t k = 0; k < p->ops && !there; k++)
            there = strcmp(p->op[k].key, was->key) == 0 && p->op[k].from == was->from;
        if (!there)
            bpi_object(v, was->key, "it had begun, and is not in the plan any more");
    }
}

/* Most are in use where something starts, or where one more is gone. */
static void test_burners(bpi_verify *v, int64_t at, const char *key)
{
    const bpi_amends *m = v->amends;
    const bp_plan *p = v->plan;
    uint32_t there = v->show->kitchen.burners, used = 0;
    for (uint32_t i = 0; i < m->burners; i++)
        there -= m->burner[i] <= at;
    for (uint32_t o = 0; o < p->ops; o++)
        for (uint32_t i = 0; i < p->op[o].uses.n; i++)
            used += p->op[o].from <= at && at < p->op[o].to &&
                    p->thing[p->index[p->op[o].uses.first + i]].kind == BP_BURNER;
    if (used > there)
        bpi_object(v, key, "%u burners are in use, and %u are left", used, there);
}

static void test_missing(bpi_verify *v)
{
    const bpi_amends *m = v->amends;
    const bp_plan *p = v->plan;
    for (uint32_t i = 0; i < m->burners; i++)
        test_burners(v, m->burner[i], "burner");
    for (uint32_t o = 0; o < p->ops; o++) {
        const bp_op *op = &p->op[o];
        for (uint32_t i = 0; i < op->uses.n; i++) {
            const bp_thing *t = &p->thing[p->index[op->uses.first + i]];
            if (t->kind == BP_BURNER && !bpi_is_past(v, op))
                test_burners(v, op->from, op->key);
            for (uint32_t k = 0; k < v->show->kitchen.ovens; k++)
                if (op->kind == BP_OP_OVEN && t->kind == BP_OVEN && m->dead[k] != BP_NO_TIME &&
                    strcmp(v->show->kitchen.oven[k].id, t->id) == 0 && op->to > m->dead[k])
                    bpi_object(v, op->key, "it is in an oven that is dead");
        }
        for (uint32_t i = 0; i < m->aways; i++)
            if (op->person == m->away[i].person && op->from < m->away[i].to &&
                op->to > m->away[i].from)
                bpi_object(v, op->key, "its cook is not there");
    }
}

void bpi_verify_amends(bpi_verify *v)
{
    if (v->amends->ticked)
        bpi_verify_ticks(v);
    else
        test_past(v);
    test_missing(v);
}
