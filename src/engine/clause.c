/* src/engine/clause.c - clauses over bounds.
 *
 * Owns     the part of bpi_core below `clause`, and the watches.
 * May use  engine/core, grow.
 *
 * At least one literal holds. Two literals of each are watched; nothing has to
 * be done before one of the two fails. Scheme: M. W. Moskewicz et al., "Chaff" (2001), with bounds
 * in place of Booleans. */
#include "engine/core.h"

#include <string.h>

#include "engine/grow.h"

enum { WORD_SIZE, WORD_KIND, WORD_USED };
enum { KIND_GIVEN = -1 }; /* else the number of levels in it when it was learned */

static bpi_lit lit_at(const int32_t *w, uint32_t k)
{
    bpi_lit l;
    memcpy(&l, &w[BPI_CLAUSE_HEAD + 2 * k], sizeof l);
    return l;
}

static void put_lit(int32_t *w, uint32_t k, bpi_lit l)
{
    memcpy(&w[BPI_CLAUSE_HEAD + 2 * k], &l, sizeof l);
}

static bool lack(bpi_core *c)
{
    c->no_memory = true;
    return false;
}

/* Literal l fails when the opposite view reaches 1 - l.least. */
static bool watch(bpi_core *c, bpi_lit l, uint32_t place, bpi_lit other)
{
    bpi_watches *w = &c->watch[l.view ^ 1];
    if (!BPI_GROW(w->item, w->item_room, (uint64_t)w->items + 1))
        return lack(c);
    w->item[w->items++] = (bpi_watch){1 - l.least, place, other};
    return true;
}

static bool store(bpi_core *c, const bpi_lit *l, uint32_t n, int32_t kind, uint32_t *place)
{
    uint64_t end = (uint64_t)c->clause.used + BPI_CLAUSE_HEAD + 2 * (uint64_t)n;
    bool learned = kind != KIND_GIVEN;
    if (end > BPI_MOST_PLACE || !BPI_GROW(c->clause.words, c->clause.words_room, end))
        return lack(c);
    if (learned
            ? !BPI_GROW(c->clause.learned, c->clause.learned_room, (uint64_t)c->clause.learneds + 1)
            : !BPI_GROW(c->clause.given, c->clause.given_room, (uint64_t)c->clause.givens + 1))
        return lack(c);
    *place = c->clause.used;
    int32_t *w = c->clause.words + *place;
    w[WORD_SIZE] = (int32_t)n;
    w[WORD_KIND] = kind;
    w[WORD_USED] = 1;
    for (uint32_t k = 0; k < n; k++)
        put_lit(w, k, l[k]);
    if (!watch(c, l[0], *place, l[1]) || !watch(c, l[1], *place, l[0]))
        return false;
    c->clause.used = (uint32_t)end;
    if (learned)
        c->clause.learned[c->clause.learneds++] = *place;
    else
        c->clause.given[c->clause.givens++] = *place;
    return true;
}

bool bpi_core_clause(bpi_core *c, const bpi_lit *l, uint32_t n)
{
    bpi_lit *left = NULL; /* what is open at the root */
    uint32_t lefts = 0;
    if (!BPI_GROW(c->why, c->why_room, n))
        return lack(c);
    left = c->why;
    for (uint32_t k = 0; k < n; k++) {
        if (bpi_lit_holds(c, l[k]))
            return true;
        if (!bpi_lit_fails(c, l[k]))
            left[lefts++] = l[k];
    }
    if (lefts == 0) {
        c->broken = true;
        return true;
    }
    if (lefts == 1)
        return bpi_core_set(c, left[0], 0) || !c->no_memory;
    uint32_t place;
    return store(c, left, lefts, KIND_GIVEN, &place);
}

bool bpi_clause_learn(bpi_core *c, const bpi_lit *l, uint32_t n, uint32_t lbd, uint32_t *place)
{
    return store(c, l, n, (int32_t)lbd, place);
}

void bpi_clause_bump(bpi_core *c, uint32_t place)
{
    int32_t *w = c->clause.words + place;
    if (w[WORD_USED] < 64)
        w[WORD_USED]++;
}

/* One watched clause whose literal on `view` has just failed. Sets *keep to whether the watch
 * stays. */
static bool look(bpi_core *c, bpi_watch *now, uint32_t view, bool *keep)
{
    *keep = true;
    int32_t *w = c->clause.words + now->clause;
    uint32_t n = (uint32_t)w[WORD_SIZE];
    bpi_lit failed = {view ^ 1, 1 - now->at}, first = lit_at(w, 0);
    if (first.view == failed.view && first.least == failed.least) {
        first = lit_at(w, 1);
        put_lit(w, 0, first);
        put_lit(w, 1, failed);
    }
    if (bpi_lit_holds(c, first)) {
        now->other = first;
        return true;
    }
    for (uint32_t k = 2; k < n; k++) {
        bpi_lit l = lit_at(w, k);
        if (!bpi_lit_fails(c, l)) {
            put_lit(w, 1, l);
            put_lit(w, k, failed);
            *keep = false;
            return watch(c, l, now->clause, first);
        }
    }
    c->work += n;
    if (!bpi_lit_fails(c, first))
        return bpi_core_set(c, first, BPI_WHY(BPI_WHY_CLAUSE, now->clause));
    if (!BPI_GROW(c->why, c->why_room, n))
        return lack(c);
    for (uint32_t k = 0; k < n; k++)
        c->why[k] = bpi_lit_not(lit_at(w, k));
    bpi_clause_bump(c, now->clause);
    return bpi_core_conflict(c, c->why, n);
}

bool bpi_clause_visit(bpi_core *c, const bpi_step *s)
{
    bpi_watches *w = &c->watch[s->view];
    uint32_t kept = 0, k = 0;
    bool fine = true;
    c->work += w->items / 8;
    for (; k < w->items && fine; k++) {
        bpi_watch now = w->item[k];
        /* A bound passed earlier was looked at then; what made it harmless goes back with it. */
        if (now.at <= s->old || now.at > s->now || bpi_lit_holds(c, now.other)) {
            w->item[kept++] = now;
            continue;
        }
        bool keep;
        c->work += 2;
        fine = look(c, &now, s->view, &keep);
        w = &c->watch[s->view];
        if (keep)
            w->item[kept++] = now;
    }
    for (; k < w->items; k++)
        w->item[kept++] = w->item[k];
    w->items = kept;
    return fine;
}

/* Forget the half that was of least use: many levels, seldom in a conflict; of equals the older. */
static bool worth_keeping(const int32_t *w, int32_t bar)
{
    return w[WORD_KIND] <= 2 || w[WORD_KIND] - w[WORD_USED] <= bar;
}

static int32_t median_bar(const bpi_core *c)
{
    uint32_t count[160] = {0}, sum = 0;
    for (uint32_t k = 0; k < c->clause.learneds; k++) {
        const int32_t *w = c->clause.words + c->clause.learned[k];
        int32_t rank = w[WORD_KIND] - w[WORD_USED] + 64;
        count[rank < 0 ? 0 : rank > 159 ? 159 : rank]++;
    }
    for (int32_t r = 0; r < 160; r++) {
        sum += count[r];
        if (sum * 2 > c->clause.learneds)
            return r - 65; /* ranks below r stay */
    }
    return 95;
}

/* Move a clause to `to`, without the literals that fail at the root. 0: it holds at the root. */
static uint32_t settle(bpi_core *c, uint32_t from, uint32_t to)
{
    int32_t *old = c->clause.words + from, *w = c->clause.words + to;
    uint32_t n = (uint32_t)old[WORD_SIZE], kept = 0;
    int32_t kind = old[WORD_KIND], used = old[WORD_USED];
    for (uint32_t k = 0; k < n; k++)
        if (bpi_lit_holds(c, lit_at(old, k)))
            return 0;
    for (uint32_t k = 0; k < n; k++) {
        bpi_lit l = lit_at(old, k);
        if (!bpi_lit_fails(c, l))
            put_lit(w, kept++, l);
    }
    w[WORD_SIZE] = (int32_t)kept;
    w[WORD_KIND] = kind;
    w[WORD_USED] = used / 2;
    return kept;
}

bool bpi_clause_reduce(bpi_core *c)
{
    int32_t bar = median_bar(c);
    bool forget = c->clause.learneds > 0, fine = true;
    uint32_t to = 0, g = 0, l = 0, givens = 0, learneds = 0;
    for (uint32_t v = 0; v < c->views; v++)
        c->watch[v].items = 0;
    /* Both lists ascend, and together they cover the words: walk them as one. */
    while (g < c->clause.givens || l < c->clause.learneds) {
        bool given = l >= c->clause.learneds ||
                     (g < c->clause.givens && c->clause.given[g] < c->clause.learned[l]);
        uint32_t from = given ? c->clause.given[g++] : c->clause.learned[l++];
        if (!given && forget && !worth_keeping(c->clause.words + from, bar))
            continue;
        uint32_t n = settle(c, from, to);
        if (n < 2) /* settled at the root: a fixed point leaves no clause with one open literal */
            continue;
        const int32_t *w = c->clause.words + to;
        fine = watch(c, lit_at(w, 0), to, lit_at(w, 1)) &&
               watch(c, lit_at(w, 1), to, lit_at(w, 0)) && fine;
        if (given)
            c->clause.given[givens++] = to;
        else
            c->clause.learned[learneds++] = to;
        to += BPI_CLAUSE_HEAD + 2 * n;
    }
    c->clause.used = to;
    c->clause.givens = givens;
    c->clause.learneds = learneds;
    return fine;
}
