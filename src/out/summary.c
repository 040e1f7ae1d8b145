#include "out/summary.h"

#include <inttypes.h>
#include <string.h>

#include "backpot/output.h"
#include "base/civil.h"
#include "base/span.h"
#include "base/utf8.h"
#include "out/facts.h"

#define FIRST_MINUTES 10
#define FIRST_DRIVERS 5

static void put_clock(bpi_text *t, const bp_plan *plan, int64_t at)
{
    char clock[BP_CLOCK_ROOM];
    bpi_text_put(t, bp_plan_clock(clock, plan, at));
}

static void put_seconds(bpi_text *t, const bp_plan *plan, int64_t at)
{
    char clock[BP_CLOCK_ROOM];
    bpi_text_put(t, bpi_fact_clock(clock, plan, at));
}

static void put_codes(bpi_text *t, const bp_plan *plan, bp_slice codes)
{
    for (uint32_t i = 0; i < codes.n; i++)
        bpi_text_f(t, "%s%s", i ? " " : "", plan->container[plan->index[codes.first + i]].code);
}

static void put_head(bpi_text *t, const bp_plan *plan)
{
    char date[BPI_FACT_DATE_ROOM];
    bpi_text_f(t, "%s\n%s, %s, plan %s\n\n", plan->title, bpi_fact_date(date, plan), plan->zone,
               plan->stamp);
}

/* A plan holds with likely times; a step that runs over may have no room in it. */
static void put_planned(bpi_text *t, const bp_plan *plan)
{
    const bp_chance *c = plan->chance;
    char share[BP_CLOCK_ROOM];
    if (!c || c->on_time == c->days)
        bpi_text_put(t, "Planned: everything is on set in time.\n");
    else
        bpi_text_f(t,
                   "Planned: with likely times everything is on set in time. Played with longer "
                   "ones it is on %s of days%s\n",
                   bpi_fact_chance(share, c->on_time, c->days),
                   c->asked ? "." : "; --chance 95 plans for room where it pays.");
}

static void put_verdict(bpi_text *t, const bp_plan *plan)
{
    bool late;
    if (plan->stopped)
        bpi_text_put(t, "STOPPED: food safety forbids this plan; see To heed.\n");
    switch (plan->verdict) {
    case BP_PLANNED:
        if (!plan->stopped)
            put_planned(t, plan);
        break;
    case BP_LATE:
        bpi_text_put(t, plan->unsure
                            ? "LATE: no plan was found within the search effort, and none was "
                              "excluded. This is the least late one found:\n"
                            : "LATE: the show cannot be planned as written. This is the least "
                              "late plan:\n");
        late = false;
        for (uint32_t i = 0; i < plan->containers; i++) {
            const bp_container *c = &plan->container[i];
            if (c->late <= 0)
                continue;
            late = true;
            bpi_text_f(t, "  %s, %s: ", c->code, plan->dish[c->dish].title);
            bpi_span_words(t, c->late);
            bpi_text_put(t, " late\n");
        }
        if (!late)
            bpi_text_put(t, "  no swap-out is late: the work lasts longer than the crew\n");
        break;
    case BP_NONE:
        bpi_text_put(t,
                     plan->unsure
                         ? "NO PLAN: none was found within the search effort, not even late, and "
                           "none was excluded.\n"
                     : plan->late_unsure
                         ? "NO PLAN: the show cannot be planned as written, and no late plan was "
                           "found within the search effort.\n"
                         : "NO PLAN: the show cannot be planned as written, not even late.\n");
        break;
    }
}

/* "sample.json:14:40: the deck oven has 3 positions" */
static void put_facts(bpi_text *t, const bp_plan *plan)
{
    if (!plan->facts) {
        bpi_text_put(t, plan->facts_minimal
                            ? "\nThe recipes and the running order exclude each other.\n"
                            : "\nWhat excludes what was not found within the search effort.\n");
        return;
    }
    bpi_text_put(t,
                 plan->unsure ? "\nThese may be in each other's way; with them loosened a plan was "
                                "found:\n"
                 : plan->facts_minimal
                     ? "\nThese cannot all hold; each one is needed for it:\n"
                     : "\nThese cannot all hold; fewer may do, this was not tried to the end:\n");
    for (uint32_t i = 0; i < plan->facts; i++) {
        const bp_fact *f = &plan->fact[i];
        bpi_text_f(t, "  %s:", f->file);
        if (f->line)
            bpi_text_f(t, "%" PRIu32 ":%" PRIu32 ":", f->line, f->col);
        bpi_text_f(t, " %s\n", f->text);
    }
}

static void put_fix_list(bpi_text *t, const bp_plan *plan, bool whole, const char *head)
{
    for (uint32_t i = 0; i < plan->fixes; i++) {
        const bp_fix *f = &plan->fix[i];
        if (f->whole != whole)
            continue;
        bpi_text_f(t, "%s  %s", head, f->text);
        head = "";
        if (*f->pointer)
            bpi_text_f(t, " (%s)", f->pointer);
        bpi_text_char(t, '\n');
    }
}

static void put_fixes(bpi_text *t, const bp_plan *plan)
{
    put_fix_list(t, plan, true, "\nWhat would help (each was planned again):\n");
    put_fix_list(t, plan, false,
                 "\nWhat would make the beats fit the slot, yet found no plan for the kitchen:\n");
    if (plan->fixes_cut)
        bpi_text_put(t, plan->fixes ? "  More may help: not every change was tried to the end.\n"
                                    : "\nNo change was found that would help; not every one was "
                                      "tried to the end.\n");
    else if (!plan->fixes)
        bpi_text_put(t, "\nNo change that was tried would help: neither a single one nor several "
                        "together.\n");
}

static void put_beats(bpi_text *t, const bp_plan *plan, const bp_air *air)
{
    for (uint32_t i = 0; i < air->beats.n; i++) {
        const bp_beat *b = &plan->beat[air->beats.first + i];
        if (b->dropped) {
            bpi_text_f(t, "    %2" PRIu32 "  left out         %s\n", i + 1, b->text);
            continue;
        }
        bpi_text_f(t, "    %2" PRIu32 "  ", i + 1);
        put_seconds(t, plan, b->from);
        bpi_text_f(t, "  %3" PRId64 " s  %s", b->length, b->text);
        if (b->on.n) {
            bpi_text_put(t, " [");
            put_codes(t, plan, b->on);
            bpi_text_char(t, ']');
        }
        bpi_text_char(t, '\n');
        if (b->camera_late)
            bpi_text_f(
                t, "        camera %s is there %" PRId64 " s late: its move takes %" PRId64 " s\n",
                b->camera, b->camera_late, b->camera_move);
    }
    for (uint32_t i = 0; i < air->teases.n; i++) {
        const bp_tease *tease = &plan->tease[air->teases.first + i];
        bpi_text_put(t, "        ");
        put_seconds(t, plan, tease->at);
        bpi_text_f(t, "  %3" PRId64 " s  tease: %s", tease->length,
                   tease->dish == BP_NO_INDEX ? "" : plan->dish[tease->dish].title);
        if (tease->container != BP_NO_INDEX)
            bpi_text_f(t, " [%s]", plan->container[tease->container].code);
        bpi_text_char(t, '\n');
    }
}

static void put_airs(bpi_text *t, const bp_plan *plan)
{
    bpi_text_put(t, plan->airs ? "\nOn air\n" : "");
    for (uint32_t i = 0; i < plan->airs; i++) {
        const bp_air *air = &plan->air[i];
        bpi_text_put(t, "  ");
        put_clock(t, plan, air->hit);
        bpi_text_f(t, "  %s, slot ", air->title);
        bpi_span_minutes(t, air->slot);
        if (air->hits > 1)
            bpi_text_f(t, ", hit %" PRIu32 " of %" PRIu32, air->hit_no, air->hits);
        if (air->floats) {
            bpi_text_put(t, ", may come until ");
            put_clock(t, plan, air->hit + air->floats);
        }
        bpi_text_put(t, ", on set by ");
        put_clock(t, plan, air->set_by);
        bpi_text_put(t, air->drafted ? "; beats drafted from the recipes\n" : "\n");
        put_beats(t, plan, air);
    }
}

static void put_containers(bpi_text *t, const bp_plan *plan)
{
    bpi_text_put(t, plan->containers ? "\nSwap-outs\n" : "");
    for (uint32_t i = 0; i < plan->containers; i++) {
        const bp_container *c = &plan->container[i];
        bpi_text_f(t, "  %-3s %s, %s: %s", c->code, plan->dish[c->dish].title,
                   bp_stage_name(c->stage), c->why);
        if (plan->verdict != BP_NONE) { /* else nothing says when */
            bpi_text_put(t, "; on set ");
            put_clock(t, plan, c->on_set);
        }
        bpi_text_char(t, '\n');
    }
}

static void put_calls(bpi_text *t, const bp_plan *plan)
{
    if (plan->verdict == BP_NONE)
        return; /* nobody is called for a plan that is not */
    bpi_text_put(t, plan->persons ? "\nCalls\n" : "");
    for (uint32_t i = 0; i < plan->persons; i++) {
        const bp_person *p = &plan->person[i];
        bpi_text_f(t, "  %s%s: ", p->name, p->presenter ? " (presenter)" : "");
        if (p->stints.n == 0)
            bpi_text_put(t, "not needed");
        for (uint32_t k = 0; k < p->stints.n; k++) {
            const bp_stint *s = &plan->stint[p->stints.first + k];
            bpi_text_put(t, k ? "; " : "");
            put_clock(t, plan, s->call);
            bpi_text_put(t, " to ");
            put_clock(t, plan, s->release);
        }
        bpi_text_char(t, '\n');
    }
}

/* The calendar day of a moment, the show day being 0; a clock change moves its ends by an hour, at
 * which nobody begins. */
static int64_t day_of(int64_t t)
{
    return t / BPI_DAY - (t % BPI_DAY < 0);
}

/* What is done by hand in the first minutes of each day: nobody may stand there asking. */
static void put_first(bpi_text *t, const bp_plan *plan)
{
    int64_t start = BP_NO_TIME;
    for (uint32_t i = 0; i < plan->ops; i++) {
        const bp_op *op = &plan->op[i];
        if (op->person == BP_NO_INDEX)
            continue;
        if (start == BP_NO_TIME)
            bpi_text_f(t, "\nThe first %d minutes\n", FIRST_MINUTES);
        if (start == BP_NO_TIME || day_of(op->from) != day_of(start))
            start = op->from;
        if (op->from >= start + INT64_C(60) * FIRST_MINUTES)
            continue;
        bpi_text_put(t, "  ");
        put_clock(t, plan, op->from);
        bpi_text_f(t, "  %s: ", plan->person[op->person].name);
        put_codes(t, plan, op->serves);
        bpi_text_f(t, "%s%s\n", op->serves.n ? " " : "", op->text);
    }
}

/* Minutes as a clock would count them, for nobody reads 14106 min; of others the number alone. */
static void put_amount(bpi_text *t, const bp_goal *g, int64_t amount)
{
    if (strcmp(g->unit, "min") != 0)
        bpi_text_f(t, "%" PRId64, amount);
    else if (amount)
        bpi_span_words(t, amount * 60);
    else
        bpi_text_put(t, "0 min");
}

static void put_goals(bpi_text *t, const bp_plan *plan)
{
    bpi_text_put(t, plan->goals ? "\nHow good it is\n" : "");
    for (uint32_t i = 0; i < plan->goals; i++) {
        const bp_goal *g = &plan->goal[i];
        bpi_text_f(t, "  %s: ", g->name);
        put_amount(t, g, g->value);
        if (strcmp(g->unit, "min") != 0)
            bpi_text_f(t, " %s", g->unit);
        bpi_text_put(t, ", ");
        if (g->proved)
            bpi_text_put(t, "proved least\n");
        else if (g->value <= g->bound) /* what stands above may yet be bettered */
            bpi_text_put(t, "not to be bettered while the rest stays as it is\n");
        else if (g->bound > 0) {
            bpi_text_put(t, "not proved least; it cannot be below ");
            put_amount(t, g, g->bound);
            bpi_text_char(t, '\n');
        } else
            bpi_text_put(t,
                         "not proved least\n"); /* that it is not below zero goes without saying */
    }
}

static void put_findings(bpi_text *t, const bp_plan *plan)
{
    static const char *const weights[] = {
        [BP_NOTE] = "note", [BP_CAUTION] = "CAUTION", [BP_STOP] = "STOP"};
    if (plan->findings)
        bpi_text_f(t, "\nTo heed, food by the limits of %s\n", plan->limits);
    for (uint32_t i = 0; i < plan->findings; i++) {
        const bp_finding *f = &plan->finding[i];
        bpi_text_f(t, "  %s: ", weights[f->weight]);
        if (f->container != BP_NO_INDEX)
            bpi_text_f(t, "%s: ", plan->container[f->container].code);
        bpi_text_put(t, f->text);
        if (f->at != BP_NO_TIME) {
            bpi_text_put(t, " (");
            put_clock(t, plan, f->at);
            bpi_text_char(t, ')');
        }
        if (*f->rule)
            bpi_text_f(t, " [%s]", f->rule);
        if (*f->accepted)
            bpi_text_f(t, " ACCEPTED by %s", f->accepted);
        bpi_text_char(t, '\n');
    }
}

static void put_claims(bpi_text *t, const bp_plan *plan)
{
    bpi_text_put(t, plan->claims ? "\nSaid of nutrients, by 21 CFR 101.54 to 101.62\n" : "");
    for (uint32_t i = 0; i < plan->claims; i++) {
        const bp_claim *c = &plan->claim[i];
        bpi_text_f(t, "  %s, %s: %s", c->dish, c->text,
                   c->holds == BP_YES  ? "yes"
                   : c->holds == BP_NO ? "NO"
                                       : "NOT ENOUGH DATA");
        bpi_text_f(t, "%s%s; %s", *c->figure ? ": " : "", c->figure, c->why);
        if (*c->rule)
            bpi_text_f(t, " [%s]", c->rule);
        bpi_text_char(t, '\n');
    }
}

/* "B2 B3 Sweat the vegetables in oil" */
static void put_driver(bpi_text *t, const bp_plan *plan, const bp_driver *d, uint32_t late)
{
    char share[BP_CLOCK_ROOM];
    const bp_op *op = &plan->op[d->op];
    bpi_text_put(t, "    ");
    put_codes(t, plan, op->serves);
    bpi_text_f(t, " %s: %s\n", op->text, bpi_fact_chance(share, d->late, late));
}

static void put_early(bpi_text *t, const bp_plan *plan, const bp_early *e)
{
    char share[BP_CLOCK_ROOM];
    bpi_text_put(t, "    ");
    bpi_span_words(t, e->by);
    bpi_text_f(t, " earlier: %s", bpi_fact_chance(share, e->on_time, plan->chance->days));
    if (e->stale)
        bpi_text_f(t, "; %" PRIu32 " swap-out%s would stand past %s best", e->stale,
                   e->stale > 1 ? "s" : "", e->stale > 1 ? "their" : "its");
    if (e->person != BP_NO_INDEX)
        bpi_text_f(t, "; %s cannot be called so early", plan->person[e->person].name);
    bpi_text_char(t, '\n');
}

/* What was asked for, and what the plan allows steps for it. */
static void put_buffers(bpi_text *t, const bp_chance *c)
{
    char share[BP_CLOCK_ROOM];
    if (c->asked && (uint64_t)c->on_time * 100 >= (uint64_t)c->asked * c->days)
        bpi_text_f(t, "  %" PRIu32 " %% was asked for, and holds\n", c->asked);
    else if (c->asked)
        bpi_text_f(t, "  %" PRIu32 " %% was asked for; this is the best that was reached\n",
                   c->asked);
    if (c->buffers)
        bpi_text_f(t, "  Longer than likely, so that it holds (without: %s)\n",
                   bpi_fact_chance(share, c->without, c->days));
    for (uint32_t i = 0; i < c->buffers; i++) {
        bpi_text_put(t, "    ");
        bpi_span_words(t, c->buffer[i].seconds);
        bpi_text_f(t, " more for: %s\n", c->buffer[i].text);
    }
}

static void put_chance(bpi_text *t, const bp_plan *plan)
{
    const bp_chance *c = plan->chance;
    char share[BP_CLOCK_ROOM];
    if (!c) {
        if (plan->verdict == BP_PLANNED)
            bpi_text_put(t, "\nHow likely it holds is not worked out: no step has low, likely and "
                            "high times.\n");
        return;
    }
    bpi_text_f(t, "\nHow likely it holds (%" PRIu32 " days played, seed %" PRIu64 ")\n", c->days,
               c->seed);
    bpi_text_f(t, "  %s: everything on set in time\n", bpi_fact_chance(share, c->on_time, c->days));
    put_buffers(t, c);
    for (uint32_t i = 0; i < plan->containers; i++) {
        const bp_odds *o = &c->odds[i];
        if (o->on_time == c->days)
            continue; /* said by what is left out */
        bpi_text_f(t, "    %-3s %s", plan->container[i].code,
                   bpi_fact_chance(share, o->on_time, c->days));
        if (o->nine_tenths != BP_NO_TIME) {
            bpi_text_put(t, "; nine days in ten on set by ");
            put_seconds(t, plan, o->nine_tenths);
        }
        bpi_text_char(t, '\n');
    }
    if (c->drivers)
        bpi_text_put(t, "  Behind it when something was late (of the late days)\n");
    for (uint32_t i = 0; i < c->drivers && i < FIRST_DRIVERS; i++)
        put_driver(t, plan, &c->driver[i], c->days - c->on_time);
    if (c->on_time < c->days)
        bpi_text_put(t, "  With the crew called and all started\n");
    for (uint32_t i = 1; i < c->earlies && c->on_time < c->days; i++)
        put_early(t, plan, &c->early[i]);
}

bp_code bpi_summary_put(bpi_text *out, const bp_plan *plan, bp_errors *errs)
{
    bpi_text t = BPI_TEXT_EMPTY;
    put_head(&t, plan);
    put_verdict(&t, plan);
    if (plan->verdict != BP_PLANNED) {
        put_facts(&t, plan);
        put_fixes(&t, plan);
    }
    put_airs(&t, plan);
    put_containers(&t, plan);
    put_calls(&t, plan);
    put_first(&t, plan);
    put_findings(&t, plan);
    put_claims(&t, plan);
    put_goals(&t, plan);
    put_chance(&t, plan);
    bpi_text_f(&t, "\n%s\n", plan->defer);
    /* Each line made safe for a terminal; no text of a plan holds a line end. */
    for (const char *s = t.failed ? "" : t.s; *s;) {
        size_t n = strcspn(s, "\n");
        bpi_utf8_plain(out, s, n);
        bpi_text_char(out, '\n');
        s += n + (s[n] == '\n');
    }
    bool failed = t.failed || out->failed;
    bpi_text_release(&t);
    return failed ? bpi_error_no_memory(errs) : BP_OK;
}

bp_code bp_summary_write(char **out, size_t *len, const bp_plan *plan, bp_errors *errs)
{
    bpi_text t = BPI_TEXT_EMPTY;
    *out = NULL;
    *len = 0;
    bp_code rc = bpi_summary_put(&t, plan, errs);
    if (rc != BP_OK) {
        bpi_text_release(&t);
        return rc;
    }
    *out = t.s; /* for the caller to release */
    *len = t.len;
    return BP_OK;
}
