/* src/out/drafts.c - drafts of slots, as text for a terminal.
 *
 * Owns     bp_drafts_write of backpot/draft.h.
 * May use  out/facts, base/; reads the plans.
 */
#include "backpot/draft.h"

#include <inttypes.h>
#include <string.h>

#include "base/error.h"
#include "base/span.h"
#include "base/text.h"
#include "base/utf8.h"
#include "out/facts.h"

/* The first appearance of the segment: its id, or its id with the number of the hit. */
static const bp_air *air_of(const bp_draft *d)
{
    size_t n = strlen(d->segment);
    for (uint32_t i = 0; i < d->plan->airs; i++) {
        const char *id = d->plan->air[i].id;
        if (strncmp(id, d->segment, n) == 0 && (id[n] == '\0' || id[n] == '/'))
            return &d->plan->air[i];
    }
    return NULL;
}

static void put_crew(bpi_text *t, const bp_plan *plan)
{
    for (uint32_t i = 0; i < plan->goals; i++)
        if (strcmp(plan->goal[i].name, "crew time") == 0)
            bpi_text_f(t, "crew %" PRId64 " min%s", plan->goal[i].value,
                       plan->goal[i].proved ? " (proved least)" : "");
}

static void put_cost(bpi_text *t, const bp_draft *d)
{
    bpi_text_f(t,
               "  draft %" PRIu32 "  worth %" PRId32 "; %" PRIu32 " swap-outs, %" PRIu32
               " burner%s on the set; ",
               d->number, d->worth, d->swap_outs, d->burners, d->burners == 1 ? "" : "s");
    if (!d->plan)
        bpi_text_put(t, "the kitchen has no plan for it that may be used");
    else if (d->plan->verdict == BP_PLANNED)
        put_crew(t, d->plan);
    else
        bpi_text_put(t, d->plan->verdict == BP_LATE ? "LATE: the kitchen cannot make it in time"
                                                    : "the kitchen cannot make it");
    bpi_text_char(t, '\n');
}

static void put_beats(bpi_text *t, const bp_plan *plan, const bp_air *air)
{
    char clock[BP_CLOCK_ROOM];
    for (uint32_t i = 0; i < air->beats.n; i++) {
        const bp_beat *b = &plan->beat[air->beats.first + i];
        bpi_text_f(t, "    %2" PRIu32 "  %s  %3" PRId64 " s  %s", i + 1,
                   bpi_fact_clock(clock, plan, b->from), b->length, b->text);
        for (uint32_t k = 0; k < b->on.n; k++)
            bpi_text_f(t, "%s%s", k ? " " : " [",
                       plan->container[plan->index[b->on.first + k]].code);
        bpi_text_put(t, b->on.n ? "]\n" : "\n");
    }
}

static void put_boxes(bpi_text *t, const bp_plan *plan, const bp_air *air)
{
    bpi_text_put(t, "    to cook:");
    for (uint32_t i = 0; i < plan->containers; i++) {
        const bp_container *c = &plan->container[i];
        if (c->air == (uint32_t)(air - plan->air))
            bpi_text_f(t, " %s %s;", c->code, c->state);
    }
    bpi_text_char(t, '\n');
}

bp_code bp_drafts_write(char **out, size_t *len, const bp_drafts *drafts, bp_errors *errs)
{
    bpi_text t = BPI_TEXT_EMPTY, plain = BPI_TEXT_EMPTY;
    *out = NULL;
    *len = 0;
    bpi_text_put(&t, drafts->drafts
                         ? "Drafts that differ in what they ask of the kitchen, best first\n"
                         : "Every segment has its beats written: nothing is drafted.\n");
    for (uint32_t i = 0; i < drafts->drafts; i++) {
        const bp_draft *d = &drafts->draft[i];
        const bp_air *air = d->plan ? air_of(d) : NULL;
        if (d->number == 1)
            bpi_text_f(&t, "\n%s\n", d->segment);
        put_cost(&t, d);
        if (air)
            put_beats(&t, d->plan, air);
        if (air)
            put_boxes(&t, d->plan, air);
    }
    if (drafts->drafts)
        bpi_text_put(&t,
                     "\nTo take number 2 of a segment, write \"draft\": {\"take\": 2} in it.\n");
    for (const char *s = t.failed ? "" : t.s; *s;) { /* made safe for a terminal */
        size_t n = strcspn(s, "\n");
        bpi_utf8_plain(&plain, s, n);
        bpi_text_char(&plain, '\n');
        s += n + (s[n] == '\n');
    }
    bool failed = t.failed || plain.failed;
    bpi_text_release(&t);
    if (failed) {
        bpi_text_release(&plain);
        return bpi_error_no_memory(errs);
    }
    *out = plain.s; /* for the caller to release */
    *len = plain.len;
    return BP_OK;
}
