/* src/day/learn.c - how long steps and beats took, robust to odd days.
 *
 * Owns     the estimate.
 * May use  model/, base/, the public headers.
 * Units    whole seconds; no floating point.
 */
#include <stdlib.h>
#include <string.h>

#include "backpot/after.h"
#include "base/arena.h"
#include "base/error.h"
#include "model/show.h"

#define FLOOR 15    /* s: nobody ticks more exactly                           */
#define SHARE 20    /* a twentieth                                            */
#define SCALE 14826 /* in ten-thousandths                                     */
#define DAYS  3     /* scaled deviations from the median: such a day is odd ... */
#define TIMES 5     /* ... and such a single time; a long one may well be real */
#define FINE  15    /* s: times are rounded to so much up to ten minutes ...  */
#define ROUGH 60    /* ... and to so much beyond                              */
#define PRESS 3     /* s: nobody presses a beat's key more exactly            */

static int ascending(const void *a, const void *b)
{
    int64_t x = *(const int64_t *)a, y = *(const int64_t *)b;
    return x < y ? -1 : x > y;
}

/* Of a sorted list; of an even number the mean of the two in the middle, rounded down. */
static int64_t median(const int64_t *v, uint32_t n)
{
    return n % 2 ? v[n / 2] : v[n / 2 - 1] + (v[n / 2] - v[n / 2 - 1]) / 2;
}

/* The median of a list, which it sorts, and how far from it is odd: `most` scaled median absolute
 * deviations, each taken to be at least `least`. */
static int64_t odd_from(int64_t *middle, int64_t *v, int64_t *scratch, uint32_t n, int64_t least,
                        int64_t most)
{
    qsort(v, n, sizeof *v, ascending);
    *middle = median(v, n);
    for (uint32_t i = 0; i < n; i++)
        scratch[i] = llabs(v[i] - *middle);
    qsort(scratch, n, sizeof *scratch, ascending);
    int64_t deviation = median(scratch, n);
    return (deviation > least ? deviation : least) * most * SCALE / 10000;
}

/* ---- what was seen --------------------------------------------------------------------------- */

typedef struct learning {
    const bpi_show *show;
    const bp_after *const *day;
    uint32_t days;
    bool *odd; /* of each day */
    int64_t *v, *scratch;
} learning;

static const bpi_recipe *recipe_of(const learning *l, const bp_plan *p, const bp_op *op)
{
    const bp_container *c = &p->container[p->index[op->serves.first]];
    const char *air = p->air[c->air].id, *dish = p->dish[c->dish].id;
    for (uint32_t g = 0; g < l->show->segments; g++) {
        const bpi_segment *seg = &l->show->segment[g];
        size_t n = strlen(seg->id);
        for (uint32_t d = 0; d < seg->dishes; d++)
            if (strncmp(air, seg->id, n) == 0 && (air[n] == '\0' || air[n] == '/') &&
                strcmp(seg->dish[d].id, dish) == 0)
                return &l->show->recipe[seg->dish[d].recipe];
    }
    return NULL;
}

/* The step's id is the last part of the key. */
static bool is_of(const learning *l, const bp_plan *p, const bp_op *op, const bpi_recipe *r,
                  const bpi_step *s)
{
    const char *id = strrchr(op->key, '/');
    return op->kind == BP_OP_ACTIVE && (op->serves.n == 1 || s->together) && op->serves.n && id &&
           strcmp(id + 1, s->id) == 0 && recipe_of(l, p, op) == r;
}

/* By how much of its planned length it ran over, in thousandths; BP_NO_TIME: not told. */
static int64_t share_over(const bp_after *a, uint32_t i, bool beats)
{
    const bp_op *op = beats ? NULL : &a->op[i].plan->op[a->op[i].op];
    if (op && op->kind != BP_OP_ACTIVE)
        return BP_NO_TIME;
    int64_t length = op ? op->to - op->from : a->plan->beat[i].length;
    int64_t over = beats ? bp_after_beat_over(a, i) : bp_after_op_over(a, i);
    return over == BP_NO_TIME || length <= 0 ? BP_NO_TIME : over * 1000 / length;
}

/* How far each day ran over or under, as a share of what was planned. */
static void find_odd_days(learning *l, bool beats)
{
    int64_t *ran = l->scratch + l->days, *sorted = ran + l->days;
    uint32_t n = 0;
    for (uint32_t i = 0; i < l->days; i++) {
        const bp_after *a = l->day[i];
        uint32_t seen = 0;
        l->odd[i] = false;
        for (uint32_t o = 0; o < (beats ? a->plan->beats : a->ops); o++) {
            int64_t over = share_over(a, o, beats);
            if (over != BP_NO_TIME)
                l->v[seen++] = over;
        }
        qsort(l->v, seen, sizeof *l->v, ascending);
        ran[i] = seen ? median(l->v, seen) : BP_NO_TIME;
        if (seen)
            sorted[n++] = ran[i];
    }
    if (n < 3)
        return;
    int64_t middle = 0, most = odd_from(&middle, sorted, l->scratch, n, 1000 / SHARE, DAYS);
    for (uint32_t i = 0; i < l->days; i++)
        l->odd[i] = ran[i] != BP_NO_TIME && llabs(ran[i] - middle) > most;
}

static int64_t grain(int64_t t)
{
    return t < 600 ? FINE : ROUGH;
}

static int64_t rounded(int64_t t, int64_t up)
{
    int64_t g = grain(t);
    return (t + up * g / 2) / g * g;
}

/* Take in a length that was seen, unless its day is odd. */
static void see(learning *l, bp_lesson *k, uint32_t day, int64_t length, uint32_t *n)
{
    k->seen++;
    if (l->odd[day])
        k->odd++;
    else
        l->v[(*n)++] = length;
}

/* What was seen without odd times, ascending, is left in l->v; returns how many. */
static uint32_t leave_odd_out(learning *l, bp_lesson *k, uint32_t n, int64_t floor)
{
    int64_t middle = 0;
    uint32_t kept = 0;
    if (n == 0)
        return 0;
    qsort(l->v, n, sizeof *l->v, ascending);
    int64_t least = median(l->v, n) / SHARE;
    int64_t most = odd_from(&middle, l->v, l->scratch, n, least > floor ? least : floor, TIMES);
    for (uint32_t i = 0; i < n; i++)
        if (llabs(l->v[i] - middle) <= most)
            l->v[kept++] = l->v[i];
    k->odd += n - kept;
    k->enough = kept >= BP_LEARN_LEAST && l->v[kept - 1] > 0;
    return kept;
}

/* How long it would have been for one container: `once` and `each` say what a batch of a size takes. */
static int64_t for_one(const bpi_step *s, int64_t length, uint32_t containers)
{
    int64_t whole = s->together_once + s->together_each * containers;
    return s->together && whole > 0 ? length * s->time.likely / whole : length;
}

static bool is_near(int64_t a, int64_t b)
{
    return llabs(a - b) <= grain(a > b ? a : b);
}

/* A batch is learned in proportion, so rounding alone must not change it once more. */
static void put_batch(bp_lesson *k, const bpi_step *s)
{
    k->once = s->together_once;
    k->each = s->together_each;
    if (is_near(k->low, k->was_low) && is_near(k->likely, k->was_likely) &&
        is_near(k->high, k->was_high)) {
        k->low = k->was_low;
        k->likely = k->was_likely;
        k->high = k->was_high;
    }
    k->once = (k->once * k->likely + k->was_likely / 2) / k->was_likely;
    k->each = (k->each * k->likely + k->was_likely / 2) / k->was_likely;
}

static void learn_step(learning *l, bp_lesson *k, const bpi_recipe *r, const bpi_step *s)
{
    uint32_t n = 0;
    for (uint32_t i = 0; i < l->days; i++) {
        const bp_after *a = l->day[i];
        for (uint32_t o = 0; o < a->ops; o++) {
            const bp_actual *done = &a->op[o].done;
            const bp_op *op = &a->op[o].plan->op[a->op[o].op];
            if (bp_after_op_over(a, o) != BP_NO_TIME && is_of(l, a->op[o].plan, op, r, s))
                see(l, k, i, for_one(s, done->to - done->from, op->serves.n), &n);
        }
    }
    uint32_t kept = leave_odd_out(l, k, n, FLOOR);
    if (!k->enough)
        return;
    k->low = rounded(l->v[0], 0);
    k->likely = rounded(median(l->v, kept), 1);
    k->high = rounded(l->v[kept - 1] + grain(l->v[kept - 1]) - 1, 0);
    k->low = k->low < FINE ? FINE : k->low;
    k->likely = k->likely < k->low ? k->low : k->likely;
    k->high = k->high < k->likely ? k->likely : k->high;
    if (k->together)
        put_batch(k, s);
}

/* Beat number `number` of its segment, at each of its hits. */
static void learn_beat(learning *l, bp_lesson *k, uint32_t number)
{
    uint32_t n = 0;
    size_t len = strlen(k->recipe);
    for (uint32_t i = 0; i < l->days; i++) {
        const bp_after *a = l->day[i];
        for (uint32_t h = 0; h < a->plan->airs; h++) {
            const bp_air *air = &a->plan->air[h];
            uint32_t b = air->beats.first + number;
            if (strncmp(air->id, k->recipe, len) == 0 && (!air->id[len] || air->id[len] == '/') &&
                number < air->beats.n && bp_after_beat_over(a, b) != BP_NO_TIME)
                see(l, k, i, a->beat[b].to - a->beat[b].from, &n);
        }
    }
    uint32_t kept = leave_odd_out(l, k, n, PRESS);
    if (!k->enough)
        return;
    k->likely = median(l->v, kept);
    k->low = l->v[0] < k->was_low ? l->v[0] : k->was_low;
    k->high = l->v[kept - 1] > k->was_high ? l->v[kept - 1] : k->was_high;
    k->low = k->low < 1 ? 1 : k->low;
    k->likely = k->likely < k->low ? k->low : k->likely;
}

static bp_lesson lesson_of(const char *of, const char *id, const bpi_length *time)
{
    return (bp_lesson){.recipe = of,
                       .step = id,
                       .file = time->where.file,
                       .line = time->where.line,
                       .col = time->where.col,
                       .was_low = time->least,
                       .was_likely = time->likely,
                       .was_high = time->most};
}

static void learn_steps(learning *l, bp_lessons *all, bp_lesson *lesson)
{
    find_odd_days(l, false);
    for (uint32_t i = 0; i < l->show->recipes; i++)
        for (uint32_t s = 0; s < l->show->recipe[i].steps; s++) {
            const bpi_recipe *r = &l->show->recipe[i];
            const bpi_step *step = &r->step[s];
            bp_lesson *k = &lesson[all->lessons];
            *k = lesson_of(r->id, step->id, &step->time);
            k->together = step->together;
            if (step->kind != BPI_ACTIVE || !k->line || (k->together && k->was_likely == 0))
                continue;
            learn_step(l, k, r, step);
            all->lessons += k->seen > 0;
        }
}

static void learn_beats(learning *l, bp_lessons *all, bp_lesson *lesson)
{
    find_odd_days(l, true);
    for (uint32_t g = 0; g < l->show->segments; g++)
        for (uint32_t i = 0; i < l->show->segment[g].beats; i++) {
            const bpi_beat *b = &l->show->segment[g].beat[i];
            bp_lesson *k = &lesson[all->lessons];
            *k = lesson_of(l->show->segment[g].id, b->id, &b->time);
            k->beat = true;
            if (!k->line)
                continue;
            learn_beat(l, k, i);
            all->lessons += k->seen > 0;
        }
}

bp_code bp_lessons_make(bp_lessons **out, const bp_show *show, const bp_after *const *day,
                        uint32_t days, bp_errors *errs)
{
    *out = NULL;
    bpi_arena *a = bpi_arena_new();
    bp_lessons *all = a ? BPI_TAKE(a, 1, bp_lessons) : NULL;
    size_t room = 3 * (size_t)days + 1, steps = 0;
    for (uint32_t i = 0; i < days; i++)
        room += day[i]->ops + day[i]->plan->beats;
    for (uint32_t r = 0; r < show->recipes; r++)
        steps += show->recipe[r].steps;
    for (uint32_t g = 0; g < show->segments; g++)
        steps += show->segment[g].beats;
    learning l = {.show = show, .day = day, .days = days};
    bp_lesson *lesson = a ? BPI_TAKE(a, steps, bp_lesson) : NULL;
    if (a) {
        l.odd = BPI_TAKE(a, days, bool);
        l.v = BPI_TAKE(a, room, int64_t);
        l.scratch = BPI_TAKE(a, room, int64_t);
    }
    if (!all || !lesson || !l.odd || !l.v || !l.scratch) {
        bpi_arena_free(a);
        return bpi_error_no_memory(errs);
    }
    learn_steps(&l, all, lesson);
    learn_beats(&l, all, lesson);
    all->lesson = lesson;
    all->own = a;
    *out = all;
    return BP_OK;
}

void bp_lessons_free(bp_lessons *lessons)
{
    if (lessons)
        bpi_arena_free(lessons->own);
}
