#include "plan/buffer.h"

#include <string.h>

#include "base/error.h"
#include "base/limits.h"

enum {
    MINUTE = 60,
    MOST_TRIES = 80 /* plans made: a tight morning of a dozen uncertain steps took 14 */
};

/* ---- a show with buffers ----------------------------------------------------------------- */

static bool find(const bpi_show *show, const bp_buffer *b, uint32_t *recipe, uint32_t *step)
{
    for (uint32_t r = 0; r < show->recipes; r++)
        for (uint32_t s = 0; s < show->recipe[r].steps; s++)
            if (strcmp(show->recipe[r].id, b->recipe) == 0 &&
                strcmp(show->recipe[r].step[s].id, b->step) == 0) {
                *recipe = r;
                *step = s;
                return true;
            }
    return false;
}

/* Whole minutes that a step may take beyond the likely time. */
static int64_t most_of(const bpi_step *s)
{
    if (!s->time.uncertain || s->time.likely == 0)
        return 0;
    return (s->time.most - s->time.likely + MINUTE - 1) / MINUTE * MINUTE;
}

static int64_t in_proportion(int64_t seconds, int64_t of, int64_t likely)
{
    return (seconds * of + likely - 1) / likely;
}

static void lengthen(bpi_step *s, int64_t seconds)
{
    int64_t likely = s->time.likely;
    if (s->kind == BPI_ACTIVE) {
        s->together_once += in_proportion(seconds, s->together_once, likely);
        s->together_each += in_proportion(seconds, s->together_each, likely);
    } else
        s->together_once += seconds;
    s->time.likely += seconds;
    if (s->time.most < s->time.likely)
        s->time.most = s->time.likely;
}

const bpi_show *bpi_buffer_show(bpi_arena *a, const bpi_show *show, const bp_buffer *buffer,
                                uint32_t n, const bp_buffer **wrong)
{
    *wrong = NULL;
    bpi_show *copy = BPI_TAKE(a, 1, bpi_show);
    bpi_recipe *recipe = BPI_TAKE(a, show->recipes, bpi_recipe);
    if (!copy || !recipe)
        return NULL;
    for (uint32_t r = 0; r < show->recipes; r++) {
        bpi_step *step = BPI_TAKE(a, show->recipe[r].steps, bpi_step);
        if (!step)
            return NULL;
        for (uint32_t s = 0; s < show->recipe[r].steps; s++)
            step[s] = show->recipe[r].step[s];
        for (uint32_t i = 0; i < n; i++) {
            uint32_t in = 0, at = 0;
            bool known = find(show, &buffer[i], &in, &at);
            if (!known || buffer[i].seconds <= 0 ||
                buffer[i].seconds > most_of(&show->recipe[in].step[at])) {
                *wrong = &buffer[i];
                return NULL;
            }
            if (in == r)
                lengthen(&step[at], buffer[i].seconds);
        }
        recipe[r] = show->recipe[r];
        recipe[r].step = step;
    }
    *copy = *show;
    copy->recipe = recipe;
    return copy;
}

/* ---- where they pay ---------------------------------------------------------------------- */

typedef struct state {
    const bpi_show *show;
    int64_t *seconds; /* of buffer per step: recipes x BPI_MAX_STEPS */
    bool *full, *grown;
    bp_buffer *list;
} state;

static uint32_t list_buffers(state *s)
{
    uint32_t n = 0;
    for (uint32_t r = 0; r < s->show->recipes; r++)
        for (uint32_t i = 0; i < s->show->recipe[r].steps; i++) {
            int64_t seconds = s->seconds[r * BPI_MAX_STEPS + i];
            const bpi_step *step = &s->show->recipe[r].step[i];
            if (seconds)
                s->list[n++] = (bp_buffer){s->show->recipe[r].id, step->id, step->text, seconds};
        }
    return n;
}

static bool may_grow(const state *s, uint32_t r, uint32_t i)
{
    uint32_t at = r * BPI_MAX_STEPS + i;
    return !s->full[at] && s->seconds[at] < most_of(&s->show->recipe[r].step[i]);
}

/* A minute more for the step with the greatest loss, and for those with three quarters of it. */
static bool grow(state *s, const uint64_t *loss)
{
    uint64_t worst = 0;
    for (uint32_t r = 0; r < s->show->recipes; r++)
        for (uint32_t i = 0; i < s->show->recipe[r].steps; i++)
            if (may_grow(s, r, i) && loss[r * BPI_MAX_STEPS + i] > worst)
                worst = loss[r * BPI_MAX_STEPS + i];
    for (uint32_t r = 0; r < s->show->recipes; r++)
        for (uint32_t i = 0; i < s->show->recipe[r].steps; i++) {
            uint32_t at = r * BPI_MAX_STEPS + i;
            s->grown[at] = worst && may_grow(s, r, i) && loss[at] >= worst - worst / 4;
            s->seconds[at] += s->grown[at] ? MINUTE : 0;
        }
    return worst > 0;
}

/* What grew last does not fit: no more of it. */
static void take_back(state *s)
{
    for (uint32_t at = 0; at < s->show->recipes * BPI_MAX_STEPS; at++)
        if (s->grown[at]) {
            s->seconds[at] -= MINUTE;
            s->full[at] = true;
        }
}

static bool holds(const bp_plan *plan, uint32_t asked)
{
    const bp_chance *c = plan->chance;
    return (uint64_t)c->on_time * 100 >= (uint64_t)asked * c->days;
}

bp_code bpi_buffer_make(bp_plan **plan, const bpi_show *show, uint32_t asked, uint64_t *loss,
                        bpi_buffer_try *try_plan, void *ctx, bp_errors *errs)
{
    bpi_arena *a = bpi_arena_new();
    size_t steps = (size_t)show->recipes * BPI_MAX_STEPS;
    state s = {.show = show};
    s.seconds = a ? BPI_TAKE(a, steps, int64_t) : NULL;
    s.full = a ? BPI_TAKE(a, steps, bool) : NULL;
    s.grown = a ? BPI_TAKE(a, steps, bool) : NULL;
    s.list = a ? BPI_TAKE(a, steps, bp_buffer) : NULL;
    uint64_t *next = a ? BPI_TAKE(a, steps, uint64_t) : NULL;
    bp_code rc = s.seconds && s.full && s.grown && s.list && next ? BP_OK : BP_ENOMEM;
    for (int i = 0; i < MOST_TRIES && rc == BP_OK && !holds(*plan, asked); i++) {
        if (!grow(&s, loss))
            break;
        bp_plan *made = NULL;
        memset(next, 0, steps * sizeof *next);
        rc = try_plan(&made, ctx, s.list, list_buffers(&s), next);
        if (made)
            memcpy(loss, next, steps * sizeof *next);
        else
            take_back(&s);
        if (made && made->chance && made->chance->on_time > (*plan)->chance->on_time) {
            bp_plan *old = *plan;
            *plan = made;
            made = old;
        }
        bp_plan_free(made);
    }
    bpi_arena_free(a);
    return rc == BP_ENOMEM ? bpi_error_no_memory(errs) : rc;
}
