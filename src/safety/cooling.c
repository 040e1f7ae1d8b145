/* src/safety/cooling.c - food on its way down, held against the two limits.
 *
 * Owns     what the model says of it, and what would cure it.
 * May use  safety/walk, model/thermal, safety/limits, base/.
 *
 * The clock of the limits starts when the food passes "cool from" (57 °C) on its way down, not when it
 * leaves the stove; it is one clock with a checkpoint: what the first part does not use is left for
 * the second. Food that was never hot has one limit of its own.
 */
#include <inttypes.h>

#include "base/span.h"
#include "model/thermal.h"
#include "safety/walk.h"

#define ROOM         21000 /* mC: outside hot and cold places; common practice, no source    */
#define REFRIGERATOR 2800  /* mC: 37 °F, as FDA tables of cooling have it                    */
#define HOT_FOOD     95000 /* mC: where no core says how hot it was: near the boil           */

static const char *const places[] = {[BPI_COOL_NOT] = "",
                                     [BPI_COOL_ROOM] = "the room",
                                     [BPI_COOL_REFRIGERATOR] = "a refrigerator",
                                     [BPI_COOL_FREEZER] = "a freezer",
                                     [BPI_COOL_CHILLER] = "a blast chiller",
                                     [BPI_COOL_ICE_BATH] = "an ice bath"};

static int32_t lower(const bpi_limit *l)
{
    return l->celsius < l->fahrenheit ? l->celsius : l->fahrenheit;
}

static int32_t upper(const bpi_limit *l)
{
    return l->celsius > l->fahrenheit ? l->celsius : l->fahrenheit;
}

static const bpi_limit *second(const bpi_walk *w)
{
    return bpi_limit_of(w->limits,
                        w->cooling.unheated ? BPI_LIMIT_COOL_UNHEATED : BPI_LIMIT_COOL_ALL);
}

/* ---- what would cure it -------------------------------------------------------------------- */

/* Does a layer of that depth keep both limits, from the start of the clock on? */
static bool keeps(const bpi_walk *w, int64_t depth, int32_t around, int32_t h)
{
    const bpi_limit *first = bpi_limit_of(w->limits, BPI_LIMIT_COOL_FIRST), *all = second(w);
    int32_t from = w->cooling.unheated ? ROOM : lower(bpi_limit_of(w->limits, BPI_LIMIT_COOL_FROM));
    int64_t k = bpi_thermal_layer(depth, h);
    return (w->cooling.unheated ||
            bpi_thermal_until(from, upper(first), around, k) <= first->seconds) &&
           bpi_thermal_until(from, upper(all), around, k) <= all->seconds;
}

/* The deepest layer, in whole half centimetres, that keeps them; 0: none. */
static int64_t deepest(const bpi_walk *w, int32_t around, int32_t h)
{
    int64_t depth = 0;
    while (depth < 300000 && keeps(w, depth + 5000, around, h))
        depth += 5000;
    return depth;
}

static void put_depth(bpi_text *t, int64_t um)
{
    bpi_text_f(t, "%" PRId64 "%s cm", um / 10000, um % 10000 ? ".5" : "");
}

static void put_cure(bpi_text *t, const bpi_walk *w)
{
    const bpi_cool *how = &w->cooling.how;
    int64_t here = deepest(w, how->around_mC, bpi_thermal_coefficient(how->in));
    int64_t ice = deepest(w, 0, BPI_THERMAL_WATER);
    const char *between = "; ";
    if (here && here < how->depth_um) {
        bpi_text_put(t, "; spread it in shallow pans, at most ");
        put_depth(t, here);
        bpi_text_put(t, " deep");
        between = ", or ";
    }
    if (how->in != BPI_COOL_ICE_BATH && ice) {
        bpi_text_f(t, "%sstir it in an ice bath", between);
        if (ice < how->depth_um) {
            bpi_text_put(t, ", at most ");
            put_depth(t, ice);
            bpi_text_put(t, " across");
        }
        between = ", or ";
    }
    bpi_text_f(t, "%scook a smaller batch", between);
}

/* ---- what comes of it ---------------------------------------------------------------------- */

static void put_how(bpi_text *t, const bpi_walk *w)
{
    bpi_text_f(t, "\"%s\", ", w->cooling.text);
    bpi_text_f(t, "%" PRId64 ".%" PRId64 " cm deep in %s at ", (w->cooling.depth_um + 500) / 10000,
               (w->cooling.depth_um + 500) / 1000 % 10, places[w->cooling.how.in]);
    bpi_temp_put(t, w->cooling.how.around_mC);
}

/* It is not down to `limit` when the clock says so. */
static void miss(bpi_walk *w, const bpi_limit *limit)
{
    bpi_cooling *c = &w->cooling;
    bpi_text t = BPI_TEXT_EMPTY;
    c->told = true;
    put_how(&t, w);
    bpi_text_put(&t, ": by the model it is not down to ");
    bpi_limit_put(&t, limit);
    bpi_text_put(&t, " within ");
    bpi_span_words(&t, limit->seconds);
    if (c->unheated) {
        bpi_text_put(&t, " of being made");
    } else {
        bpi_text_put(&t, " of ");
        bpi_limit_put(&t, bpi_limit_of(w->limits, BPI_LIMIT_COOL_FROM));
    }
    put_cure(&t, w);
    bpi_walk_add(w, BP_STOP, c->clock + limit->seconds, limit->rule, &t);
}

/* When it gets to `to` in this stretch, which ends at `end`; BP_NO_TIME: not in it. */
static int64_t reaches(const bpi_cooling *c, int32_t to, int64_t end)
{
    int64_t takes = c->temp_mC <= to     ? 0
                    : c->around_mC >= to ? BPI_THERMAL_NEVER
                                         : bpi_thermal_until(c->temp_mC, to, c->around_mC, c->k);
    return takes <= end - c->at ? c->at + takes : BP_NO_TIME;
}

static void note(int64_t *moment, const bpi_cooling *c, int32_t to, int64_t end)
{
    if (*moment == BP_NO_TIME)
        *moment = reaches(c, to, end);
}

/* Is it, by now or by when it is last needed, past the limit that it reached at `moment`? */
static bool late(const bpi_walk *w, int64_t moment, const bpi_limit *limit)
{
    int64_t until = w->cooling.at < w->last ? w->cooling.at : w->last;
    int64_t by = moment == BP_NO_TIME || moment > until ? until : moment;
    return by > w->cooling.clock + limit->seconds;
}

/* Let it cool until `to`, which is later than it is now. */
static void go_on(bpi_walk *w, int64_t to)
{
    bpi_cooling *c = &w->cooling;
    const bpi_limit *first = bpi_limit_of(w->limits, BPI_LIMIT_COOL_FIRST), *all = second(w);
    note(&c->clock, c, lower(bpi_limit_of(w->limits, BPI_LIMIT_COOL_FROM)), to);
    note(&c->first, c, upper(first), to);
    note(&c->all, c, upper(all), to);
    c->temp_mC = bpi_thermal_after(c->temp_mC, c->around_mC, c->k, to - c->at);
    c->at = to;
    if (c->told || c->clock == BP_NO_TIME)
        return;
    if (late(w, c->first, first) && !c->unheated)
        miss(w, first);
    else if (late(w, c->all, all))
        miss(w, all);
    else if (c->all != BP_NO_TIME)
        bpi_walk_cooled(w);
}

/* Read when the model has it down, at the latest when the limit ends. */
static void probe(bpi_walk *w, const bpi_limit *limit, int64_t clock, int64_t moment)
{
    const bpi_limit *from = bpi_limit_of(w->limits, BPI_LIMIT_COOL_FROM);
    int64_t by = clock + limit->seconds;
    int64_t at = moment != BP_NO_TIME && moment < by ? moment + 59 : by;
    bpi_text t = BPI_TEXT_EMPTY;
    if (at > w->last)
        return;
    bpi_text_put(&t, "Cooling: down to ");
    bpi_limit_put(&t, limit);
    bpi_text_put(&t, " within ");
    bpi_span_words(&t, limit->seconds);
    if (!w->cooling.unheated) {
        bpi_text_put(&t, " of ");
        bpi_limit_put(&t, from);
    }
    if (limit == bpi_limit_of(w->limits, BPI_LIMIT_COOL_FIRST)) {
        bpi_text_put(&t, "; if not, heat it to ");
        bpi_limit_put(&t, bpi_limit_of(w->limits, BPI_LIMIT_REHEAT));
        bpi_text_put(&t, " and begin again, once");
    } else {
        bpi_text_put(&t, "; if not, throw it away");
    }
    bpi_walk_probe(w, at, limit->rule, &t);
}

static void probe_both(bpi_walk *w, int64_t clock)
{
    if (!w->cooling.unheated)
        probe(w, bpi_limit_of(w->limits, BPI_LIMIT_COOL_FIRST), clock, w->cooling.first);
    probe(w, second(w), clock, w->cooling.all);
}

static void begin(bpi_walk *w, const bpi_stretch *s)
{
    bpi_cooling *c = &w->cooling;
    bool unheated = w->cooling.unheated;
    int32_t from = s->step->cool.from_mC != BPI_NO_TEMP ? s->step->cool.from_mC
                   : unheated                           ? ROOM
                   : w->hot_mC != BPI_NO_TEMP           ? w->hot_mC
                                                        : HOT_FOOD;
    *c = (bpi_cooling){.on = true,
                       .unheated = unheated,
                       .temp_mC = from,
                       .at = s->from,
                       .clock = unheated ? s->from : BP_NO_TIME,
                       .first = BP_NO_TIME,
                       .all = BP_NO_TIME};
    w->warm = false;
    w->chilled = w->cooked;
    if (w->cooked && w->cold_from == BP_NO_TIME)
        w->cold_from = s->from;
}

/* It is kept cold after heat, and nothing says how it comes down. */
static void unknown(bpi_walk *w, const bpi_stretch *s)
{
    const bpi_limit *first = bpi_limit_of(w->limits, BPI_LIMIT_COOL_FIRST);
    const bpi_limit *all = bpi_limit_of(w->limits, BPI_LIMIT_COOL_ALL);
    bpi_text t = BPI_TEXT_EMPTY;
    if (s->step)
        bpi_text_f(&t, "\"%s\" does not say how it cools; write \"cool\", and check that it is ",
                   s->step->text);
    else
        bpi_text_put(&t, "kept cold straight after heat; add a step with \"cool\", in shallow pans "
                         "or over ice: ");
    bpi_text_put(&t, "down to ");
    bpi_limit_put(&t, first);
    bpi_text_put(&t, " within ");
    bpi_span_words(&t, first->seconds);
    bpi_text_put(&t, " and ");
    bpi_limit_put(&t, all);
    bpi_text_put(&t, " within ");
    bpi_span_words(&t, all->seconds);
    bpi_text_put(&t, " in all");
    bpi_walk_add(w, BP_CAUTION, s->from, first->rule, &t);
    w->cooling = (bpi_cooling){.first = BP_NO_TIME, .all = BP_NO_TIME};
    probe_both(w, s->from);
}

void bpi_walk_chill(bpi_walk *w, const bpi_stretch *s)
{
    if (w->warm && s->perishable) /* a step that says how has begun, and taken it off the warm */
        unknown(w, s);
}

/* In still air, as deep as the last step had it. */
static void stand(bpi_cooling *c, int32_t around)
{
    c->around_mC = around;
    c->k = bpi_thermal_layer(c->depth_um, BPI_THERMAL_STILL_AIR);
}

void bpi_walk_cooling(bpi_walk *w, const bpi_stretch *s)
{
    bpi_cooling *c = &w->cooling;
    bool cools = s->step && s->step->cool.in != BPI_COOL_NOT;
    if (cools && !c->on && s->perishable) {
        c->unheated = !w->warm;
        if (second(w))
            begin(w, s);
    }
    if (!c->on)
        return;
    if (s->from > c->at) { /* carried, or waiting between two steps */
        stand(c, ROOM);
        go_on(w, s->from);
    }
    if (cools) {
        const bpi_cool *how = &s->step->cool;
        c->how = *how;
        c->text = s->step->text;
        c->depth_um = how->depth_um;
        c->around_mC = how->around_mC;
        c->k = bpi_thermal_of(how);
    } else if (s->stay == BPI_STAY_COLD) {
        bool said = s->place && s->place->temp_mC != BPI_NO_TEMP;
        stand(c, said ? s->place->temp_mC : REFRIGERATOR);
    } else {
        stand(c, ROOM);
    }
    if (s->to > c->at)
        go_on(w, s->to);
    if (cools)
        w->cold_to = s->to;
}

void bpi_walk_cooled(bpi_walk *w)
{
    bpi_cooling *c = &w->cooling;
    if (!c->on)
        return;
    c->on = false;
    if (c->clock == BP_NO_TIME)
        return;
    probe_both(w, c->clock);
    if (c->told)
        return;
    bpi_text t = BPI_TEXT_EMPTY;
    put_how(&t, w);
    bpi_text_put(&t, ": by the model ");
    if (c->first != BP_NO_TIME && !c->unheated) {
        bpi_limit_put(&t, bpi_limit_of(w->limits, BPI_LIMIT_COOL_FIRST));
        bpi_text_put(&t, " after ");
        bpi_span_words(&t, (c->first - c->clock + 59) / 60 * 60);
        bpi_text_put(&t, c->all != BP_NO_TIME ? ", " : "; ");
    }
    if (c->all != BP_NO_TIME) {
        bpi_limit_put(&t, second(w));
        bpi_text_put(&t, " after ");
        bpi_span_words(&t, (c->all - c->clock + 59) / 60 * 60);
        bpi_text_put(&t, "; ");
    } else {
        bpi_temp_put(&t, c->temp_mC);
        bpi_text_put(&t, " when it is used; ");
    }
    bpi_text_put(&t, "the probe decides");
    bpi_walk_add(w, BP_NOTE, c->clock, second(w)->rule, &t);
}
