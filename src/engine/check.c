#include "engine/check.h"

#include <stdarg.h>
#include <stdio.h>

#include "base/error.h"

enum { LONGEST = BP_ENG_MOST_TIME, HEAVIEST = 1000000 };

typedef struct checker {
    const bp_eng_problem *p;
    bp_errors *errs;
    bp_code code;
} checker;

static void wrong(checker *k, const char *what, uint32_t row, const char *why)
{
    k->code = bpi_error_f(k->errs, BP_EVALUE, BPI_NOWHERE, "", "problem.%s[%u] %s", what, row, why);
}

static bool slice(uint32_t first, uint32_t n, uint32_t of)
{
    return first <= of && n <= of - first;
}

static void check_sizes(checker *k)
{
    const bp_eng_problem *p = k->p;
    const struct {
        const char *name;
        const void *row;
        uint32_t n;
    } array[] = {
        {"activity", p->activity, p->activities},
        {"option", p->option, p->options},
        {"need", p->need, p->needs},
        {"lag", p->lag, p->lags},
        {"resource", p->resource, p->resources},
        {"span", p->span, p->spans},
        {"change", p->change, p->changes},
        {"literal", p->literal, p->literals},
        {"clause", p->clause, p->clauses},
        {"term", p->term, p->terms},
    };
    for (size_t n = 0; n < sizeof array / sizeof *array; n++)
        if (array[n].n && !array[n].row)
            k->code = bpi_error_f(k->errs, BP_EVALUE, BPI_NOWHERE, "",
                                  "problem.%s is NULL with %u rows", array[n].name, array[n].n);
    if (p->horizon < 0 || p->horizon > LONGEST)
        k->code = bpi_error_f(k->errs, BP_EVALUE, BPI_NOWHERE, "0 to 1000000",
                              "problem.horizon is %d", p->horizon);
    if (p->facts < 1)
        k->code = bpi_error_add(k->errs, BP_EVALUE, BPI_NOWHERE, "problem.facts is 0",
                                "at least 1: fact 0 is beyond question");
    if (p->levels > BP_ENG_LEVELS)
        k->code = bpi_error_f(k->errs, BP_EVALUE, BPI_NOWHERE, "at most 6", "problem.levels is %u",
                              p->levels);
}

static void check_options(checker *k)
{
    const bp_eng_problem *p = k->p;
    uint32_t next = 0;
    for (uint32_t a = 0; a < p->activities; a++) {
        const bp_eng_activity *v = &p->activity[a];
        if (!slice(v->option0, v->options, p->options) || v->options == 0)
            wrong(k, "activity", a, "has no options, or options out of range");
        else if (v->option0 < next)
            wrong(k, "activity", a, "shares options with an activity before it");
        else
            next = v->option0 + v->options;
    }
    for (uint32_t o = 0; o < p->options; o++) {
        const bp_eng_option *v = &p->option[o];
        if (v->least < 0 || v->most < v->least || v->most > LONGEST)
            wrong(k, "option", o, "has lengths that are not 0 <= least <= most <= 1000000");
        if (v->fact >= p->facts)
            wrong(k, "option", o, "names a fact out of range");
        if (!slice(v->need0, v->needs, p->needs)) {
            wrong(k, "option", o, "has needs out of range");
            continue;
        }
        for (uint32_t n = 0; n < v->needs; n++)
            for (uint32_t m = 0; m < n; m++)
                if (p->need[v->need0 + n].res == p->need[v->need0 + m].res) {
                    wrong(k, "option", o, "needs one resource twice");
                    n = v->needs - 1;
                    break;
                }
    }
}

static void check_resources(checker *k)
{
    const bp_eng_problem *p = k->p;
    for (uint32_t r = 0; r < p->resources; r++) {
        const bp_eng_resource *v = &p->resource[r];
        if (v->capacity < 0 || v->capacity > LONGEST)
            wrong(k, "resource", r, "has a capacity outside 0..1000000");
        if (v->fact >= p->facts || v->fact_change >= p->facts)
            wrong(k, "resource", r, "names a fact out of range");
        if (v->states > 65535 ||
            (v->states && !slice(v->change0, v->states * v->states, p->changes))) {
            wrong(k, "resource", r, "has change times out of range");
            continue;
        }
        for (uint32_t n = 0; n < v->states * v->states; n++) {
            int32_t t = p->change[v->change0 + n];
            if (t < 0 || t > LONGEST || (n / v->states == n % v->states && t)) {
                wrong(k, "resource", r,
                      "has a change time outside 0..1000000, or from a state to itself");
                break;
            }
        }
    }
    for (uint32_t n = 0; n < p->needs; n++) {
        const bp_eng_need *v = &p->need[n];
        if (v->res >= p->resources) {
            wrong(k, "need", n, "names a resource out of range");
            continue;
        }
        int64_t states = p->resource[v->res].states;
        if (v->amount < 0 || v->amount > LONGEST)
            wrong(k, "need", n, "has an amount outside 0..1000000");
        if (states ? v->state < 0 || v->state >= states : v->state != -1)
            wrong(k, "need", n, "has a state its resource does not have");
    }
    for (uint32_t s = 0; s < p->spans; s++) {
        const bp_eng_span *v = &p->span[s];
        if (v->res >= p->resources)
            wrong(k, "span", s, "names a resource out of range");
        if (v->from < 0 || v->to <= v->from || v->to > 2 * LONGEST)
            wrong(k, "span", s, "is not 0 <= from < to");
        if (v->capacity < 0 || v->capacity > LONGEST)
            wrong(k, "span", s, "has a capacity outside 0..1000000");
        if (v->fact >= p->facts)
            wrong(k, "span", s, "names a fact out of range");
    }
}

static bool has_option(const bp_eng_problem *p, uint32_t act, uint32_t opt)
{
    return act < p->activities && opt < p->activity[act].options;
}

static void check_lags(checker *k)
{
    const bp_eng_problem *p = k->p;
    for (uint32_t n = 0; n < p->lags; n++) {
        const bp_eng_lag *v = &p->lag[n];
        if ((v->from >= p->activities && v->from != BP_ENG_ORIGIN) ||
            (v->to >= p->activities && v->to != BP_ENG_ORIGIN) ||
            (v->from == BP_ENG_ORIGIN && v->to == BP_ENG_ORIGIN))
            wrong(k, "lag", n, "is not between an activity and another or the origin");
        if (v->from_end > BP_ENG_END || v->to_end > BP_ENG_END)
            wrong(k, "lag", n, "names an end that is neither start nor end");
        if (v->least < -LONGEST || v->least > LONGEST)
            wrong(k, "lag", n, "is outside -1000000..1000000");
        if (v->if_act != BP_ENG_NONE && !has_option(p, v->if_act, v->if_opt))
            wrong(k, "lag", n, "is conditional on an option that does not exist");
        if (v->fact >= p->facts)
            wrong(k, "lag", n, "names a fact out of range");
    }
    for (uint32_t n = 0; n < p->literals; n++)
        if (!has_option(p, p->literal[n].act, p->literal[n].opt))
            wrong(k, "literal", n, "names an option that does not exist");
    for (uint32_t n = 0; n < p->clauses; n++) {
        if (!slice(p->clause[n].literal0, p->clause[n].literals, p->literals))
            wrong(k, "clause", n, "has literals out of range");
        if (p->clause[n].fact >= p->facts)
            wrong(k, "clause", n, "names a fact out of range");
    }
}

static void check_terms(checker *k)
{
    const bp_eng_problem *p = k->p;
    int64_t sum[BP_ENG_LEVELS] = {0};
    for (uint32_t n = 0; n < p->terms; n++) {
        const bp_eng_term *v = &p->term[n];
        bool resource = v->kind == BP_ENG_CALL || v->kind == BP_ENG_REACH;
        if (v->level >= p->levels || v->level >= BP_ENG_LEVELS) {
            wrong(k, "term", n, "is on a level that does not exist");
            continue;
        }
        if (v->kind > BP_ENG_MOVED)
            wrong(k, "term", n, "is of no known kind");
        if (v->a >= (resource ? p->resources : p->activities))
            wrong(k, "term", n, "names an activity or resource that does not exist");
        else if (v->kind == BP_ENG_TAKES && !has_option(p, v->a, v->b))
            wrong(k, "term", n, "names an option that does not exist");
        if (v->kind == BP_ENG_SPLIT && v->b >= p->activities)
            wrong(k, "term", n, "names an activity that does not exist");
        if (v->at < -LONGEST || v->at > LONGEST)
            wrong(k, "term", n, "has a time outside -1000000..1000000");
        if (v->weight < 0 || v->weight > HEAVIEST)
            wrong(k, "term", n, "has a weight outside 0..1000000");
        else
            sum[v->level] += v->weight;
        if (sum[v->level] > INT64_C(1) << 30)
            wrong(k, "term", n, "brings the weights of its level above 2^30");
    }
}

bp_code bpi_problem_check(const bp_eng_problem *p, bp_errors *errs)
{
    checker k = {p, errs, BP_OK};
    check_sizes(&k);
    if (k.code != BP_OK) /* the rows cannot be trusted to be there */
        return k.code;
    check_options(&k);
    check_resources(&k);
    check_lags(&k);
    check_terms(&k);
    return k.code;
}
