/* tests/bench/dzn.c - an engine problem as data for another solver.
 *
 * Owns     nothing.
 * May use  the public header of the engine.
 */
#include "bench/dzn.h"

#include <stdlib.h>

/* One array over the rows of a table, by an expression of row k. */
#define ARRAY(f, name, n, expression)                                                              \
    do {                                                                                           \
        fprintf(f, "%s = [", name);                                                                \
        for (uint32_t k = 0; k < (n); k++)                                                         \
            fprintf(f, "%s%lld", k ? "," : "", (long long)(expression));                           \
        fputs("];\n", f);                                                                          \
    } while (0)

/* Activities, options and resources count from 1 there; 0 stands for none, or the origin. */
static int64_t one_up(uint32_t row)
{
    return row >= BP_ENG_ORIGIN ? 0 : (int64_t)row + 1;
}

/* Of the resource at a time, every fact holding; -1: boundless. */
static int64_t capacity_at(const bp_eng_problem *p, uint32_t res, int32_t t)
{
    int64_t least = -1;
    bool lifted = false;
    for (uint32_t n = 0; n < p->spans; n++) {
        const bp_eng_span *s = &p->span[n];
        if (s->res != res || t < s->from || t >= s->to)
            continue;
        lifted = lifted || s->capacity >= p->resource[res].capacity;
        least = least < 0 || s->capacity < least ? s->capacity : least;
    }
    if (!lifted && (least < 0 || p->resource[res].capacity < least))
        least = p->resource[res].capacity;
    return least;
}

/* The calendar: the highest capacity ever, and blocks of time in which so much of it is taken. */
static void write_calendars(FILE *f, const bp_eng_problem *p)
{
    fputs("capacity = [", f);
    for (uint32_t r = 0; r < p->resources; r++) {
        int64_t top = 0;
        for (int32_t t = 0; t < p->horizon; t++)
            top = capacity_at(p, r, t) > top ? capacity_at(p, r, t) : top;
        fprintf(f, "%s%lld", r ? "," : "", (long long)top);
    }
    fputs("];\nblocks = [|", f);
    uint32_t blocks = 0;
    for (uint32_t r = 0; r < p->resources; r++) {
        int64_t top = 0;
        for (int32_t t = 0; t < p->horizon; t++)
            top = capacity_at(p, r, t) > top ? capacity_at(p, r, t) : top;
        for (int32_t from = 0, to; from < p->horizon; from = to) {
            int64_t here = capacity_at(p, r, from);
            for (to = from + 1; to < p->horizon && capacity_at(p, r, to) == here;)
                to++;
            if (here >= top)
                continue;
            fprintf(f, "%u,%d,%d,%lld|", r + 1, (int)from, (int)(to - from),
                    (long long)(top - here));
            blocks++;
        }
    }
    fputs(blocks ? "];\n" : "|];\n", f);
}

static void write_pairs(FILE *f, const bp_eng_problem *p, const uint32_t *option_of)
{
    uint32_t pairs = 0;
    fputs("pairs = [|", f);
    for (uint32_t x = 0; x < p->needs; x++)
        for (uint32_t y = x + 1; y < p->needs; y++) {
            const bp_eng_need *a = &p->need[x], *b = &p->need[y];
            const bp_eng_resource *r = &p->resource[a->res];
            if (a->res != b->res || !r->states || a->state == b->state)
                continue;
            const int32_t *change = &p->change[r->change0];
            fprintf(f, "%u,%u,%d,%d|", option_of[x] + 1, option_of[y] + 1,
                    (int)change[(uint32_t)a->state * r->states + (uint32_t)b->state],
                    (int)change[(uint32_t)b->state * r->states + (uint32_t)a->state]);
            pairs++;
        }
    fputs(pairs ? "];\n" : "|];\n", f);
}

static void write_clauses(FILE *f, const bp_eng_problem *p)
{
    for (uint32_t negated = 0; negated < 2; negated++) {
        fputs(negated ? "but = [" : "some = [", f);
        for (uint32_t k = 0; k < p->clauses; k++) {
            bool first = true;
            fputs(k ? ",{" : "{", f);
            for (uint32_t j = 0; j < p->clause[k].literals; j++) {
                const bp_eng_literal *l = &p->literal[p->clause[k].literal0 + j];
                if (l->negated != (negated == 1))
                    continue;
                fprintf(f, "%s%u", first ? "" : ",", p->activity[l->act].option0 + l->opt + 1);
                first = false;
            }
            fputc('}', f);
        }
        fputs("];\n", f);
    }
}

bool dzn_write(FILE *f, const bp_eng_problem *p, uint32_t level, const int64_t *value)
{
    uint32_t *act_of = calloc((size_t)p->options + 1, sizeof *act_of);
    uint32_t *option_of = calloc((size_t)p->needs + 1, sizeof *option_of);
    bool fine = act_of && option_of;
    for (uint32_t a = 0; a < p->activities && fine; a++)
        for (uint32_t o = p->activity[a].option0;
             o < p->activity[a].option0 + p->activity[a].options; o++)
            act_of[o] = a;
    for (uint32_t o = 0; o < p->options && fine; o++)
        for (uint32_t n = p->option[o].need0; n < p->option[o].need0 + p->option[o].needs; n++)
            option_of[n] = o;
    if (fine) {
        bool backward = false;
        for (uint32_t t = 0; t < p->terms; t++)
            backward = backward || p->term[t].kind == BP_ENG_CALL;
        fprintf(f, "horizon = %d;\nactivities = %u;\nlevel = %u;\nbackward = %s;\n",
                (int)p->horizon, p->activities, level, backward ? "true" : "false");
        ARRAY(f, "act_of", p->options, act_of[k] + 1);
        ARRAY(f, "least", p->options, p->option[k].least);
        ARRAY(f, "most", p->options, p->option[k].most);
        ARRAY(f, "who", p->options, p->option[k].who);
        ARRAY(f, "need_option", p->needs, option_of[k] + 1);
        ARRAY(f, "need_res", p->needs, p->need[k].res + 1);
        ARRAY(f, "need_amount", p->needs, p->need[k].amount);
        ARRAY(f, "lag_from", p->lags, one_up(p->lag[k].from));
        ARRAY(f, "lag_to", p->lags, one_up(p->lag[k].to));
        ARRAY(f, "lag_from_end", p->lags, p->lag[k].from_end);
        ARRAY(f, "lag_to_end", p->lags, p->lag[k].to_end);
        ARRAY(f, "lag_least", p->lags, p->lag[k].least);
        ARRAY(f, "lag_if", p->lags,
              p->lag[k].if_act == BP_ENG_NONE
                  ? 0
                  : p->activity[p->lag[k].if_act].option0 + p->lag[k].if_opt + 1);
        write_calendars(f, p);
        write_pairs(f, p, option_of);
        write_clauses(f, p);
        ARRAY(f, "term_level", p->terms, p->term[k].level);
        ARRAY(f, "term_kind", p->terms, p->term[k].kind);
        ARRAY(f, "term_a", p->terms, p->term[k].a + 1);
        ARRAY(f, "term_b", p->terms, p->term[k].b + 1);
        ARRAY(f, "term_at", p->terms, p->term[k].at);
        ARRAY(f, "term_weight", p->terms, p->term[k].weight);
        ARRAY(f, "held", level, value[k]);
    }
    free(act_of);
    free(option_of);
    return fine && !ferror(f);
}
