#include "safety/path.h"

#include <inttypes.h>

#include "base/span.h"
#include "base/text.h"
#include "safety/walk.h"

#define DAY_S INT64_C(86400)

/* ---- time out of control ----------------------------------------------------------------- */

static void count(bpi_walk *w, int64_t from, int64_t to, bool perishable, bpi_stay stay)
{
    if (!perishable)
        return;
    w->ever_perishable = true;
    if (stay != BPI_STAY_COUNTER && stay != BPI_STAY_SET)
        return;
    const bpi_limit *limit = bpi_limit_of(w->limits, BPI_LIMIT_UNCONTROLLED);
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
    bpi_walk_add(w, BP_STOP, w->use_by, limit->rule, &t);
}

/* ---- cold and hot keeping ---------------------------------------------------------------- */

/* A place that is set outside the limit of its kind. */
static void judge_place(bpi_walk *w, const bpi_stretch *s, bpi_keep keep)
{
    const bpi_limit *limit =
        bpi_limit_of(w->limits, keep == BPI_HOT ? BPI_LIMIT_HOLD_HOT : BPI_LIMIT_HOLD_COLD);
    int32_t set = s->place ? s->place->temp_mC : BPI_NO_TEMP;
    if (!s->perishable || set == BPI_NO_TEMP || w->told_place[keep])
        return;
    if (keep == BPI_HOT ? bpi_limit_reached(limit, set) : bpi_limit_below(limit, set))
        return;
    w->told_place[keep] = true;
    bpi_text t = BPI_TEXT_EMPTY;
    bpi_text_f(&t, "kept %s at ", bpi_keep_name(keep));
    bpi_temp_put(&t, set);
    bpi_text_f(&t, "; keep it at %s ", keep == BPI_HOT ? "least" : "most");
    bpi_limit_put(&t, limit);
    bpi_walk_add(w, BP_STOP, s->from, limit->rule, &t);
}

/* A wait in hot or cold keeping is read while it lasts and when it ends. */
static void probe_keeping(bpi_walk *w, const bpi_stretch *s, bpi_keep keep)
{
    const bpi_limit *limit =
        bpi_limit_of(w->limits, keep == BPI_HOT ? BPI_LIMIT_HOLD_HOT : BPI_LIMIT_HOLD_COLD);
    if (s->step || !s->perishable || s->from >= w->last)
        return;
    int64_t end = s->to < w->last ? s->to : w->last;
    int64_t at = keep == BPI_HOT ? s->from + BPI_PATH_PROBE : end;
    for (;; at += BPI_PATH_PROBE) {
        bpi_text t = BPI_TEXT_EMPTY;
        bpi_text_f(&t, "Kept %s: at %s ", bpi_keep_name(keep), keep == BPI_HOT ? "least" : "most");
        bpi_limit_put(&t, limit);
        bpi_walk_probe(w, at < end ? at : end, limit->rule, &t);
        if (at >= end)
            break;
    }
}

/* The calendar day of a moment, the show day being 0. */
static int64_t day_of(int64_t t)
{
    return t >= 0 ? t / DAY_S : -((DAY_S - 1 - t) / DAY_S);
}

/* Cooked food in the cold from `cold_from` until `to`: the latest moment it is seen there. */
static void judge_days(bpi_walk *w, int64_t to)
{
    const bpi_limit *mark = bpi_limit_of(w->limits, BPI_LIMIT_DATE_MARK);
    const bpi_limit *keep = bpi_limit_of(w->limits, BPI_LIMIT_KEEP_COLD);
    if (!keep || w->told_cold)
        return;
    int64_t days = keep->seconds / DAY_S;
    bool over = day_of(to) - day_of(w->cold_from) >= days;
    if (!over && (!mark || to - w->cold_from <= mark->seconds))
        return;
    w->told_cold = true;
    bpi_text t = BPI_TEXT_EMPTY;
    if (over)
        bpi_text_f(&t,
                   "kept cold past its day %" PRId64 ", the first one counted; prepare it later",
                   days);
    else {
        bpi_text_put(&t, "kept cold for more than ");
        bpi_span_words(&t, mark->seconds);
        bpi_text_f(&t,
                   "; write on it the date to use it by, its day %" PRId64
                   " at most, the first one counted",
                   days);
    }
    bpi_walk_add(w, over ? BP_STOP : BP_NOTE, w->cold_from, over ? keep->rule : mark->rule, &t);
}

static void cold(bpi_walk *w, const bpi_stretch *s)
{
    bpi_walk_chill(w, s);
    judge_place(w, s, BPI_COLD);
    probe_keeping(w, s, BPI_COLD);
    w->warm = false;
    w->cold_to = s->to;
    if (!w->cooked || !s->perishable)
        return;
    w->chilled = true;
    if (w->cold_from == BP_NO_TIME)
        w->cold_from = s->from;
    judge_days(w, s->to < w->last ? s->to : w->last);
}

static void hot(bpi_walk *w, const bpi_stretch *s)
{
    judge_place(w, s, BPI_HOT);
    probe_keeping(w, s, BPI_HOT);
    w->warm = true;
    if (!w->chilled || !s->perishable || w->told_hot)
        return;
    w->told_hot = true;
    const bpi_limit *limit = bpi_limit_of(w->limits, BPI_LIMIT_REHEAT);
    bpi_text t = BPI_TEXT_EMPTY;
    bpi_text_put(&t, "kept hot after it was chilled, and no step between heats it to ");
    bpi_limit_put(&t, limit);
    bpi_text_put(&t, "; add one with that \"core\"");
    bpi_walk_add(w, BP_STOP, s->from, limit->rule, &t);
}

/* ---- thawing ------------------------------------------------------------------------------- */

static void thaw(bpi_walk *w, const bpi_stretch *s)
{
    const bpi_limit *in_cold = bpi_limit_of(w->limits, BPI_LIMIT_THAW_COLD);
    const bpi_limit *water = bpi_limit_of(w->limits, BPI_LIMIT_THAW_WATER);
    bpi_thaw how = s->step ? s->step->thaw : BPI_THAW_NOT;
    bool ends = s->stay == BPI_STAY_COOK || s->stay == BPI_STAY_COLD;
    int64_t until = ends ? s->from : s->to;
    bpi_text t = BPI_TEXT_EMPTY;
    if (how == BPI_THAW_WATER && w->thaw_from == BP_NO_TIME)
        w->thaw_from = s->from;
    if (water && w->thaw_from != BP_NO_TIME && until - w->thaw_from > water->seconds) {
        bpi_text_put(&t, "above ");
        bpi_limit_put(&t, in_cold ? in_cold : water);
        bpi_text_put(&t, " for more than ");
        bpi_span_words(&t, water->seconds);
        bpi_text_put(&t, " from thawing in water on; thaw it in the refrigerator, or cook or chill "
                         "it sooner");
        bpi_walk_add(w, BP_STOP, w->thaw_from + water->seconds, water->rule, &t);
        w->thaw_from = BP_NO_TIME;
    }
    if (ends)
        w->thaw_from = how == BPI_THAW_WATER ? s->from : BP_NO_TIME;
    if (!in_cold || (how != BPI_THAW_COUNTER && how != BPI_THAW_WATER &&
                     !(how == BPI_THAW_COLD && s->stay != BPI_STAY_COLD)))
        return;
    if (how == BPI_THAW_WATER) {
        bpi_text_f(&t, "%s: running water at most ", s->step->text);
        bpi_limit_put(&t, water ? water : in_cold);
        bpi_walk_probe(w, s->from, water ? water->rule : in_cold->rule, &t);
        return;
    }
    bpi_text_f(&t,
               "\"%s\" thaws outside the cold; thaw it in the refrigerator (\"keep\": \"cold\"), "
               "under running water, or as part of cooking",
               s->step->text);
    bpi_walk_add(w, BP_STOP, s->from, in_cold->rule, &t);
}

/* ---- at the end -------------------------------------------------------------------------- */

/* Cooling has limits of its own, thawing too: neither is time without control. */
static bool cools_by_rule(const bpi_stretch *s)
{
    return s->step && (s->step->cool.in != BPI_COOL_NOT || s->step->thaw == BPI_THAW_WATER);
}

static void walk_all(bpi_walk *w)
{
    const bpi_path *path = w->path;
    const bpi_stretch *before = NULL; /* the one that lasted longest so far */
    for (uint32_t i = 0; i < path->stretches; i++) {
        const bpi_stretch *s = &path->stretch[i];
        if (before)
            count(w, before->to, s->from, before->perishable, BPI_STAY_COUNTER);
        count(w, s->from, s->to, s->perishable, cools_by_rule(s) ? BPI_STAY_COLD : s->stay);
        if (bpi_walk_brings_raw(s->step))
            w->raw = s->step;
        thaw(w, s);
        if (s->stay == BPI_STAY_COOK || s->stay == BPI_STAY_HOT)
            bpi_walk_cooled(w);
        else
            bpi_walk_cooling(w, s);
        if (s->stay == BPI_STAY_COOK)
            bpi_walk_cook(w, i);
        else if (s->stay == BPI_STAY_COLD)
            cold(w, s);
        else if (s->stay == BPI_STAY_HOT)
            hot(w, s);
        if (!before || s->to >= before->to)
            before = s;
    }
    if (before)
        count(w, before->to, w->last, before->perishable, BPI_STAY_COUNTER);
    bpi_walk_cooled(w);
    bpi_walk_eaten(w);
}

/* Readings in time order; equal ones as they came. */
static void sort_readings(bpi_reading *p, size_t n)
{
    for (size_t i = 1; i < n; i++) {
        bpi_reading moved = p[i];
        size_t to = i;
        for (; to > 0 && p[to - 1].at > moved.at; to--)
            p[to] = p[to - 1];
        p[to] = moved;
    }
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
    bpi_walk w = {.a = a,
                  .path = path,
                  .limits = path->limits,
                  .use_by = BP_NO_TIME,
                  .counted = INT64_MIN,
                  .hot_mC = BPI_NO_TEMP,
                  .cold_from = BP_NO_TIME,
                  .cold_to = BP_NO_TIME,
                  .thaw_from = BP_NO_TIME};
    w.last = path->last;
    if (w.last == BP_NO_TIME)
        w.last = path->stretches ? path->stretch[path->stretches - 1].to : 0;
    walk_all(&w);
    if (w.failed)
        return bpi_error_no_memory(errs);
    if (w.ever_perishable && w.use_by == BP_NO_TIME)
        w.use_by =
            w.last + bpi_limit_of(w.limits, BPI_LIMIT_UNCONTROLLED)->seconds - w.uncontrolled;
    sort(w.finding, w.findings);
    out->uncontrolled = w.uncontrolled;
    out->use_by = w.use_by;
    out->cooked = !w.raw;
    out->finding = w.finding;
    out->findings = (uint32_t)w.findings;
    sort_readings(w.probe, w.probes);
    out->reading = w.probe;
    out->readings = (uint32_t)w.probes;
    return BP_OK;
}
