/* src/safety/cooking.c - whether food is cooked and heated again as the limits want it.
 *
 * Owns     findings on cores, on reheating and on what is eaten.
 * May use  safety/walk, safety/limits, base/.
 */
#include "base/span.h"
#include "safety/walk.h"

bool bpi_walk_brings_raw(const bpi_step *step)
{
    for (uint32_t i = 0; step && i < step->ingredients; i++)
        if (step->ingredient[i].raw_animal)
            return true;
    return false;
}

/* The limit that a cooking step is held to. Raw animal food of no stated kind: the highest. */
static bpi_limit_id least_core(const bpi_walk *w, bpi_food food, bool raw)
{
    bpi_limit_id id = bpi_limit_cook(food);
    if (id < BPI_LIMITS && w->limits->rows[id] == 0)
        id = BPI_LIMITS;
    return id < BPI_LIMITS || !raw ? id : BPI_LIMIT_COOK_POULTRY;
}

static bool cooks_through(const bpi_walk *w, const bpi_stretch *s, bpi_limit_id id)
{
    return s->stay == BPI_STAY_COOK && s->step &&
           bpi_limit_cooked(w->limits, id, s->step->core_mC, s->step->core_for);
}

static bool made_good_later(const bpi_walk *w, uint32_t i, bpi_limit_id id)
{
    while (++i < w->path->stretches)
        if (cooks_through(w, &w->path->stretch[i], id))
            return true;
    return false;
}

static void put_row(bpi_text *t, const bpi_limit *limit)
{
    bpi_limit_put(t, limit);
    if (limit->seconds) {
        bpi_text_put(t, " held for ");
        bpi_span_words(t, limit->seconds);
    }
}

static void judge_core(bpi_walk *w, uint32_t i)
{
    const bpi_stretch *s = &w->path->stretch[i];
    const bpi_step *step = s->step;
    bpi_limit_id id = least_core(w, step->food, false);
    const bpi_limit *limit = bpi_limit_named(w->limits, id);
    if (!limit || cooks_through(w, s, id) || made_good_later(w, i, id) ||
        !(w->path->finished || w->path->eaten))
        return;
    bpi_text t = BPI_TEXT_EMPTY;
    bp_weight weight = BP_STOP;
    if (step->core_mC == BPI_NO_TEMP) {
        weight = step->food == BPI_FOOD_PLANT ? BP_NOTE : BP_CAUTION;
        bpi_text_f(&t, "\"%s\" has no target core temperature; write \"core\", at least ",
                   step->text);
    } else {
        bpi_text_f(&t, "the target core of \"%s\" is ", step->text);
        bpi_temp_put(&t, step->core_mC);
        if (step->core_for) {
            bpi_text_put(&t, " held for ");
            bpi_span_words(&t, step->core_for);
        }
        bool hot = bpi_limit_reached(limit, step->core_mC);
        bpi_text_put(&t, hot ? ", and is not said to be held; write \"core_for\", or cook it to "
                             : ", below what its kind of food needs; cook it to ");
    }
    put_row(&t, limit);
    bpi_walk_add(w, weight, s->from, limit->rule, &t);
}

static void probe_core(bpi_walk *w, const bpi_stretch *s)
{
    const bpi_limit *limit = bpi_limit_named(w->limits, least_core(w, s->step->food, false));
    if (s->step->core_mC == BPI_NO_TEMP)
        return;
    bpi_text t = BPI_TEXT_EMPTY;
    bpi_text_f(&t, "%s: core at least ", s->step->text);
    bpi_temp_put(&t, s->step->core_mC);
    if (s->step->core_for) {
        bpi_text_put(&t, ", held for ");
        bpi_span_words(&t, s->step->core_for);
    } else if (limit && limit->seconds) {
        bpi_text_put(&t, ", for ");
        bpi_span_words(&t, limit->seconds);
    }
    bpi_walk_probe(w, s->to, limit ? limit->rule : "", &t);
}

/* From the cold to the reheating temperature, what lies between counted. */
static void judge_reheating(bpi_walk *w, const bpi_stretch *s)
{
    const bpi_limit *time = bpi_limit_of(w->limits, BPI_LIMIT_REHEAT_TIME);
    bpi_limit_id id =
        s->step->food == BPI_FOOD_PACKAGED ? BPI_LIMIT_REHEAT_PACKAGED : BPI_LIMIT_REHEAT;
    if (!w->chilled || !cooks_through(w, s, id))
        return;
    int64_t from = w->cold_to < s->from ? w->cold_to : s->from; /* chilled: it was in the cold */
    w->chilled = false;
    w->cold_from = BP_NO_TIME;
    if (!time || s->to - from <= time->seconds)
        return;
    bpi_text t = BPI_TEXT_EMPTY;
    bpi_text_f(&t, "\"%s\" is through ", s->step->text);
    bpi_span_words(&t, s->to - from);
    bpi_text_put(&t, " after the food left the cold; reheat to ");
    bpi_limit_put(&t, bpi_limit_named(w->limits, id));
    bpi_text_put(&t, " within ");
    bpi_span_words(&t, time->seconds);
    bpi_text_put(&t, ": a smaller batch, a wider pan, more heat");
    bpi_walk_add(w, BP_STOP, s->from, time->rule, &t);
}

void bpi_walk_cook(bpi_walk *w, uint32_t i)
{
    const bpi_stretch *s = &w->path->stretch[i];
    w->hot_mC = BPI_NO_TEMP;
    if (s->step) {
        w->hot_mC = s->step->core_mC;
        judge_core(w, i);
        judge_reheating(w, s);
        probe_core(w, s);
        if (w->raw && cooks_through(w, s, least_core(w, s->step->food, true)))
            w->raw = NULL;
    }
    w->warm = w->cooked = true;
}

/* ---- at the end -------------------------------------------------------------------------- */

static void judge_raw(bpi_walk *w, const char *rule)
{
    if (!w->raw || !w->path->finished || w->path->eaten)
        return;
    bpi_text t = BPI_TEXT_EMPTY;
    bpi_text_f(
        &t,
        "\"%s\" brings raw meat, fish, poultry or egg in, and no later step states a core that "
        "cooks it; write \"core\" and \"food\" at the step that does, and let nobody eat it "
        "otherwise",
        w->raw->text);
    bpi_walk_add(w, BP_CAUTION, BP_NO_TIME, rule, &t);
}

void bpi_walk_eaten(bpi_walk *w)
{
    const char *rule = bpi_limit_of(w->limits, BPI_LIMIT_COOK_POULTRY)->rule;
    judge_raw(w, rule);
    if (!w->path->eaten || (w->path->finished && !w->raw))
        return;
    bpi_text t = BPI_TEXT_EMPTY;
    if (!w->path->finished)
        bpi_text_put(&t,
                     "eaten from although it is not a finished dish; taste from a finished one");
    else
        bpi_text_f(
            &t,
            "eaten from although nothing states that it was cooked through after \"%s\"; write "
            "\"core\" and \"food\" at the step that cooks it",
            w->raw->text);
    bpi_walk_add(w, BP_STOP, w->last, rule, &t);
}
