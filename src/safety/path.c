#include "safety/path.h"

#include <string.h>

#include "base/span.h"
#include "base/text.h"
#include "safety/limits.h"

#define DAY_S INT64_C(86400)

/* What is known of the container while its stretches are walked. */
typedef struct walk {
    bpi_arena *a;
    const bpi_path *path;
    int64_t last;
    void *finding;
    size_t findings, room;
    bool failed; /* out of memory */

    int64_t uncontrolled, use_by;
    int64_t counted; /* up to here time out of control was counted: branches overlap */
    bool ever_perishable;
    const bpi_step *raw; /* the step that brought raw animal food in; NULL: none is uncooked */
    bool warm;           /* heated, and not chilled since                                    */
    bool cooked;         /* heated at least once                                             */
    bool chilled;        /* cooked, then cold, and not reheated since                        */
    int64_t cold_from;   /* first moment of cold keeping after cooking; BP_NO_TIME           */
    bool told_cold, told_hot;
} walk;

/* Takes what `text` holds. */
static void add(walk *w, bp_weight weight, int64_t at, const char *rule, bpi_text *text)
{
    bp_finding *f = NULL;
    const char *kept = text->failed ? NULL : bpi_arena_copy(w->a, text->s, text->len);
    if (kept)
        f = bpi_arena_more(w->a, &w->finding, &w->room, w->findings, sizeof *f);
    bpi_text_release(text);
    if (!f) {
        w->failed = true;
        return;
    }
    w->findings++;
    f->weight = weight;
    f->container = BP_NO_INDEX;
    f->at = at;
    f->rule = rule;
    f->text = kept;
}

/* ---- time out of control ----------------------------------------------------------------- */

static void count(walk *w, int64_t from, int64_t to, bool perishable, bpi_stay stay)
{
    if (!perishable)
        return;
    w->ever_perishable = true;
    if (stay != BPI_STAY_COUNTER && stay != BPI_STAY_SET)
        return;
    const bpi_limit *limit = bpi_limit_of(BPI_LIMIT_UNCONTROLLED);
    int64_t until = to < w->last ? to : w->last;
    from = from > w->counted ? from : w->counted;
    if (until <= from)
        return;
    w->counted = until;
    int64_t left = limit->seconds - w->uncontrolled;
    w->uncontrolled += until - from;
    if (w->use_by != BP_NO_TIME || until - from <= left)
        return;
    w->use_by = from + left;
    bpi_text t = BPI_TEXT_EMPTY;
    bpi_text_put(&t, "perishable and out of temperature control for more than ");
    bpi_span_words(&t, limit->seconds);
    bpi_text_put(&t,
                 " before it is last needed; keep it hot or cold for longer, or prepare it later");
    add(w, BP_STOP, w->use_by, limit->rule, &t);
}

/* ---- cooking ----------------------------------------------------------------------------- */

static bool brings_raw(const bpi_step *step)
{
    for (uint32_t i = 0; step && i < step->ingredients; i++)
        if (step->ingredient[i].raw_animal)
            return true;
    return false;
}

/* The limit that a cooking step is held to. Raw animal food of no stated kind: the highest. */
static const bpi_limit *least_core(bpi_food food, bool raw)
{
    const bpi_limit *limit = bpi_limit_cook(food);
    return limit || !raw ? limit : bpi_limit_cook(BPI_FOOD_POULTRY);
}

static bool cooks_through(const bpi_stretch *s, const bpi_limit *limit)
{
    return s->stay == BPI_STAY_COOK && s->step && s->step->core_mC != BPI_NO_TEMP &&
           bpi_limit_reached(limit, s->step->core_mC);
}

static bool made_good_later(const bpi_path *path, uint32_t i, const bpi_limit *limit)
{
    while (++i < path->stretches)
        if (cooks_through(&path->stretch[i], limit))
            return true;
    return false;
}

static void judge_core(walk *w, uint32_t i)
{
    const bpi_stretch *s = &w->path->stretch[i];
    const bpi_step *step = s->step;
    const bpi_limit *limit = bpi_limit_cook(step->food);
    if (!limit || cooks_through(s, limit) || made_good_later(w->path, i, limit) ||
        !(w->path->finished || w->path->eaten))
        return;
    bpi_text t = BPI_TEXT_EMPTY;
    bp_weight weight = BP_STOP;
    if (step->core_mC == BPI_NO_TEMP) {
        weight = step->food == BPI_FOOD_PLANT ? BP_NOTE : BP_CAUTION;
        bpi_text_f(&t, "\"%s\" has no target core temperature; write \"core\", at least ",
                   step->text);
        bpi_limit_put(&t, limit);
    } else {
        bpi_text_f(&t, "the target core of \"%s\" is ", step->text);
        bpi_temp_put(&t, step->core_mC);
        bpi_text_put(&t, ", below ");
        bpi_limit_put(&t, limit);
        bpi_text_put(&t, "; cook it to that");
    }
    if (limit->seconds) {
        bpi_text_put(&t, " held for ");
        bpi_span_words(&t, limit->seconds);
    }
    add(w, weight, s->from, limit->rule, &t);
}

static void judge_reheating(walk *w, const bpi_stretch *s)
{
    const bpi_limit *limit = bpi_limit_of(BPI_LIMIT_REHEAT);
    const bpi_limit *time = bpi_limit_of(BPI_LIMIT_REHEAT_TIME);
    if (!w->chilled || !cooks_through(s, limit))
        return;
    w->chilled = false;
    w->cold_from = BP_NO_TIME;
    if (s->to - s->from <= time->seconds)
        return;
    bpi_text t = BPI_TEXT_EMPTY;
    bpi_text_f(&t, "\"%s\" takes ", s->step->text);
    bpi_span_words(&t, s->to - s->from);
    bpi_text_put(&t, "; reheat to ");
    bpi_limit_put(&t, limit);
    bpi_text_put(&t, " within ");
    bpi_span_words(&t, time->seconds);
    add(w, BP_CAUTION, s->from, time->rule, &t);
}

static void cook(walk *w, uint32_t i)
{
    const bpi_stretch *s = &w->path->stretch[i];
    if (s->step) {
        judge_core(w, i);
        judge_reheating(w, s);
        if (w->raw && cooks_through(s, least_core(s->step->food, true)))
            w->raw = NULL;
    }
    w->warm = w->cooked = true;
}

/* ---- cold and hot keeping ---------------------------------------------------------------- */

static void judge_cooling(walk *w, const bpi_stretch *s)
{
    const bpi_limit *first = bpi_limit_of(BPI_LIMIT_COOL_FIRST);
    const bpi_limit *all = bpi_limit_of(BPI_LIMIT_COOL_ALL);
    bpi_text t = BPI_TEXT_EMPTY;
    if (s->step)
        bpi_text_f(&t, "\"%s\": check that it is down to ", s->step->text);
    else
        bpi_text_put(&t,
                     "kept cold straight after heat; add a step that chills it, in shallow pans "
                     "or over ice: to ");
    bpi_limit_put(&t, first);
    bpi_text_put(&t, " within ");
    bpi_span_words(&t, first->seconds);
    bpi_text_put(&t, " and ");
    bpi_limit_put(&t, all);
    bpi_text_put(&t, " within ");
    bpi_span_words(&t, all->seconds);
    bpi_text_put(&t, " in all");
    add(w, s->step ? BP_NOTE : BP_CAUTION, s->from, "FDA Food Code 3-501.14(A)", &t);
}

/* The calendar day of a moment, the show day being 0. */
static int64_t day_of(int64_t t)
{
    return t >= 0 ? t / DAY_S : -((DAY_S - 1 - t) / DAY_S);
}

/* Cooked food in the cold from `cold_from` until `to`: the latest moment it is seen there. */
static void judge_days(walk *w, int64_t to)
{
    const bpi_limit *mark = bpi_limit_of(BPI_LIMIT_DATE_MARK);
    const bpi_limit *keep = bpi_limit_of(BPI_LIMIT_KEEP_COLD);
    if (w->told_cold || to - w->cold_from <= mark->seconds)
        return;
    w->told_cold = true;
    bool over = day_of(to) - day_of(w->cold_from) >= keep->seconds / DAY_S;
    bpi_text t = BPI_TEXT_EMPTY;
    if (over)
        bpi_text_put(&t, "kept cold past its seventh day, the first one counted; prepare it later");
    else
        bpi_text_put(&t, "kept cold for more than 24 h; write on it the date to use it by, the "
                         "seventh day at most, the first one counted");
    add(w, over ? BP_STOP : BP_NOTE, w->cold_from, mark->rule, &t);
}

static void cold(walk *w, const bpi_stretch *s)
{
    if (w->warm && s->perishable)
        judge_cooling(w, s);
    w->warm = false;
    if (!w->cooked || !s->perishable)
        return;
    w->chilled = true;
    if (w->cold_from == BP_NO_TIME)
        w->cold_from = s->from;
    judge_days(w, s->to < w->last ? s->to : w->last);
}

static void hot(walk *w, const bpi_stretch *s)
{
    w->warm = true;
    if (!w->chilled || !s->perishable || w->told_hot)
        return;
    w->told_hot = true;
    const bpi_limit *limit = bpi_limit_of(BPI_LIMIT_REHEAT);
    bpi_text t = BPI_TEXT_EMPTY;
    bpi_text_put(&t, "kept hot after it was chilled, and no step between heats it to ");
    bpi_limit_put(&t, limit);
    bpi_text_put(&t, "; add one with that \"core\"");
    add(w, BP_CAUTION, s->from, limit->rule, &t);
}

/* ---- at the end -------------------------------------------------------------------------- */

static void judge_raw(walk *w)
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
    add(w, BP_CAUTION, BP_NO_TIME, "FDA Food Code 3-401.11(A)", &t);
}

static void judge_eaten(walk *w)
{
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
    add(w, BP_STOP, w->last, "FDA Food Code 3-401.11(A)", &t);
}

static void walk_all(walk *w)
{
    const bpi_path *path = w->path;
    const bpi_stretch *before = NULL; /* the one that lasted longest so far */
    for (uint32_t i = 0; i < path->stretches; i++) {
        const bpi_stretch *s = &path->stretch[i];
        if (before)
            count(w, before->to, s->from, before->perishable, BPI_STAY_COUNTER);
        count(w, s->from, s->to, s->perishable, s->stay);
        if (brings_raw(s->step))
            w->raw = s->step;
        if (s->stay == BPI_STAY_COOK)
            cook(w, i);
        else if (s->stay == BPI_STAY_COLD)
            cold(w, s);
        else if (s->stay == BPI_STAY_HOT)
            hot(w, s);
        if (!before || s->to >= before->to)
            before = s;
    }
    if (before)
        count(w, before->to, w->last, before->perishable, BPI_STAY_COUNTER);
    judge_raw(w);
    judge_eaten(w);
}

static int64_t time_of(const bp_finding *f)
{
    return f->at == BP_NO_TIME ? INT64_MAX : f->at;
}

/* In time order, those without a moment last; equal ones as found. A handful: insertion will do. */
static void sort(bp_finding *f, size_t n)
{
    for (size_t i = 1; i < n; i++) {
        bp_finding moved = f[i];
        size_t to = i;
        for (; to > 0 && time_of(&f[to - 1]) > time_of(&moved); to--)
            f[to] = f[to - 1];
        f[to] = moved;
    }
}

bp_code bpi_path_check(bpi_path_result *out, bpi_arena *a, const bpi_path *path, bp_errors *errs)
{
    *out = (bpi_path_result){0};
    walk w = {
        .a = a, .path = path, .use_by = BP_NO_TIME, .counted = INT64_MIN, .cold_from = BP_NO_TIME};
    w.last = path->last;
    if (w.last == BP_NO_TIME)
        w.last = path->stretches ? path->stretch[path->stretches - 1].to : 0;
    walk_all(&w);
    if (w.failed)
        return bpi_error_no_memory(errs);
    if (w.ever_perishable && w.use_by == BP_NO_TIME)
        w.use_by = w.last + bpi_limit_of(BPI_LIMIT_UNCONTROLLED)->seconds - w.uncontrolled;
    sort(w.finding, w.findings);
    out->uncontrolled = w.uncontrolled;
    out->use_by = w.use_by;
    out->cooked = !w.raw;
    out->finding = w.finding;
    out->findings = (uint32_t)w.findings;
    return BP_OK;
}
