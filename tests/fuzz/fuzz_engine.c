/* tests/fuzz/fuzz_engine.c - a scheduling problem spelt by the bytes: refused as not well formed, or
 * answered. Every schedule passes the independent checker; of a problem that is small enough the
 * answer is that of trying everything; a conflict is one, and switching it off gives a schedule.
 */
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "support/small_problem.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t len);

typedef struct source {
    const uint8_t *p, *end;
    bool wild; /* now and then a value that no problem may hold */
} source;

static uint32_t byte(source *s)
{
    return s->p < s->end ? *s->p++ : 0;
}

static int32_t draw(source *s, int32_t low, int32_t high)
{
    uint32_t b = byte(s);
    if (s->wild && b >= 250) {
        static const int32_t odd[] = {-1, INT32_MAX, INT32_MIN, 1000001, -1000001, 70};
        return odd[b - 250];
    }
    return low + (int32_t)(b % (uint32_t)(high - low + 1));
}

static uint32_t pick(source *s, uint32_t n)
{
    return (uint32_t)draw(s, 0, n ? (int32_t)n - 1 : 0);
}

static void resources(small_problem *q, source *s, uint32_t facts)
{
    for (uint32_t n = 1 + pick(s, 3) % 3; n-- > 0;) {
        uint32_t r = small_resource(q, draw(s, 0, 3), pick(s, facts));
        if (byte(s) % 3)
            continue;
        bp_eng_resource *v = &q->resource[r];
        v->states = 1 + byte(s) % 3;
        v->change0 = q->p.changes;
        v->fact_change = pick(s, facts);
        for (uint32_t x = 0; x < v->states * v->states; x++)
            q->change[q->p.changes++] = x % (v->states + 1) == 0 ? 0 : draw(s, 0, 2);
    }
}

static void activities(small_problem *q, source *s, uint32_t facts)
{
    for (uint32_t n = 2 + byte(s) % 3; n-- > 0;) {
        small_activity(q);
        for (uint32_t o = 1 + byte(s) % 3; o-- > 0;) {
            int32_t least = draw(s, 0, 2);
            small_option(q, least, least < 1000 ? least + draw(s, 0, 2) : least, pick(s, facts),
                         draw(s, -1, 1));
            for (uint32_t r = 0; r < q->p.resources; r++)
                if (byte(s) % 2)
                    small_need(q, r, draw(s, 0, 2),
                               q->resource[r].states
                                   ? draw(s, 0, (int32_t)q->resource[r].states - 1)
                                   : -1);
        }
    }
}

static void limits(small_problem *q, source *s, uint32_t facts)
{
    for (uint32_t n = byte(s) % 7; n-- > 0;) {
        uint32_t a = pick(s, q->p.activities), b = pick(s, q->p.activities + 1);
        bool turned = byte(s) % 2;
        b = b == q->p.activities ? BP_ENG_ORIGIN : b;
        small_lag(q, turned ? a : b, (bp_eng_end)(byte(s) % 2), turned ? b : a,
                  (bp_eng_end)(byte(s) % 2), draw(s, -5, 3), pick(s, facts));
        if (byte(s) % 3 == 0) {
            bp_eng_lag *l = &q->lag[q->p.lags - 1];
            l->if_act = pick(s, q->p.activities);
            l->if_opt = l->if_act < q->p.activities ? pick(s, q->activity[l->if_act].options) : 0;
        }
    }
    for (uint32_t n = byte(s) % 4; n-- > 0;) {
        int32_t from = draw(s, 0, 7);
        small_span(q, pick(s, q->p.resources), from, from < 1000 ? from + draw(s, 1, 4) : from,
                   draw(s, 0, 3), pick(s, facts));
    }
    for (uint32_t n = byte(s) % 3; n-- > 0;) {
        bp_eng_clause *c = &q->clause[q->p.clauses++];
        *c = (bp_eng_clause){q->p.literals, 1 + byte(s) % 2, pick(s, facts)};
        for (uint32_t k = 0; k < c->literals; k++) {
            uint32_t a = pick(s, q->p.activities);
            uint32_t o = a < q->p.activities ? pick(s, q->activity[a].options) : 0;
            q->literal[q->p.literals++] = (bp_eng_literal){a, o, byte(s) % 2};
        }
    }
}

static void terms(small_problem *q, source *s, uint32_t levels)
{
    for (uint32_t n = byte(s) % 7; n-- > 0;) {
        bp_eng_kind kind = (bp_eng_kind)(byte(s) % (BP_ENG_MOVED + 1));
        bool res = kind == BP_ENG_CALL || kind == BP_ENG_REACH;
        uint32_t a = pick(s, res ? q->p.resources : q->p.activities), b = pick(s, q->p.activities);
        if (kind == BP_ENG_TAKES)
            b = a < q->p.activities ? pick(s, q->activity[a].options) : 0;
        small_term(q, pick(s, levels), kind, a, b, draw(s, -1, 9), draw(s, 0, 3));
    }
}

static void hold(bool good)
{
    if (!good)
        abort();
}

static void explain(const small_problem *q)
{
    bp_eng_conflict *c = NULL;
    bool off[8] = {false};
    int64_t best[BP_ENG_LEVELS];
    if (bp_eng_explain(&c, &q->p, NULL, NULL) != BP_OK)
        abort();
    for (uint32_t f = 1; f < q->p.facts; f++)
        off[f] = true;
    for (uint32_t i = 0; i < c->facts; i++)
        off[c->fact[i]] = false;
    hold(!small_brute(q, off, best));
    for (uint32_t i = 0; i < c->facts && c->minimal; i++) {
        off[c->fact[i]] = true;
        hold(small_brute(q, off, best));
        off[c->fact[i]] = false;
    }
    bp_eng_conflict_free(c);
}

static void compare(const small_problem *q, const bp_eng_solution *out)
{
    int64_t best[BP_ENG_LEVELS];
    bool any = small_brute(q, NULL, best);
    hold(out->status == (any ? BP_ENG_OPTIMAL : BP_ENG_INFEASIBLE));
    for (uint32_t k = 0; k < q->p.levels && any; k++)
        hold(out->value[k] == best[k] && out->bound[k] == best[k]);
    if (!any)
        explain(q);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t len)
{
    static small_problem q;
    static bp_errors errs;
    source s = {data, data + len, false};
    errs.n = errs.more = 0;
    s.wild = byte(&s) % 4 == 0;
    uint32_t facts = 1 + byte(&s) % 5, levels = 1 + byte(&s) % 3;
    small_init(&q, 4 + (int32_t)(byte(&s) % 5), facts, levels);
    resources(&q, &s, facts);
    activities(&q, &s, facts);
    limits(&q, &s, facts);
    terms(&q, &s, levels);

    bp_eng_limits bounded = {.work = s.wild ? 2000000 : 0};
    bp_eng_solution *out = NULL;
    bp_code rc = bp_eng_solve(&out, &q.p, &bounded, &errs);
    hold((rc == BP_OK) == (errs.n == 0));
    hold(rc == BP_OK || rc == BP_EVALUE);
    if (rc == BP_OK) {
        char why[200];
        hold(!out->start || bp_eng_verify(&q.p, out, NULL, why, sizeof why));
        if (!s.wild)
            compare(&q, out);
    }
    bp_eng_solution_free(out);
    return 0;
}
