#include "cli/start.h"

#include <string.h>

#include "base/error.h"

#define RUN_UP 10 /* s before the hit that a rehearsal begins */

bp_code bpi_start_moment(bpi_start *out, const bp_plan *plan, const char *from, bp_errors *errs)
{
    *out = (bpi_start){.at = plan->ops ? plan->op[0].from - RUN_UP : 0};
    for (uint32_t o = 0; from && o < plan->ops; o++) {
        char clock[BP_CLOCK_ROOM];
        if (strcmp(bp_plan_clock(clock, plan, plan->op[o].from), from) != 0)
            continue;
        out->at = plan->op[o].from;
        return BP_OK;
    }
    if (from)
        return bpi_error_f(errs, BP_EVALUE, BPI_NOWHERE, "name a time of the prep sheet",
                           "nothing begins at \"%.40s\"", from);
    return BP_OK;
}

bp_code bpi_start_beat(bpi_start *out, const bp_plan *plan, const char *air, const char *beat,
                       bp_errors *errs)
{
    *out = (bpi_start){0, BP_NO_INDEX, 0};
    if (air) {
        while (out->air < plan->airs && strcmp(plan->air[out->air].id, air) != 0)
            out->air++;
        if (out->air == plan->airs)
            return bpi_error_f(errs, BP_EVALUE, BPI_NOWHERE, "the sheets and plan.json name them",
                               "the show has no appearance \"%.60s\"", air);
    }
    bp_slice beats = plan->air[out->air].beats;
    for (uint32_t i = 0; beat && i < beats.n; i++)
        if (strcmp(plan->beat[beats.first + i].id, beat) == 0)
            out->beat = i;
    if (beat && out->beat == BP_NO_INDEX)
        return bpi_error_f(errs, BP_EVALUE, BPI_NOWHERE, "the show file names them",
                           "%.60s has no beat \"%.60s\"", plan->air[out->air].id, beat);
    if (beat && plan->beat[beats.first + out->beat].dropped)
        return bpi_error_f(errs, BP_EVALUE, BPI_NOWHERE, "begin with another",
                           "the beat \"%.60s\" was dropped to fit the slot", beat);
    return BP_OK;
}

void bpi_start_run_up(bpi_watch *w, const bpi_start *s)
{
    const bp_plan *p = w->plan;
    for (uint32_t i = 0; i <= s->air; i++) {
        const bp_air *a = &p->air[i];
        bp_event e = {.at = a->hit, .air = a->id, .beat = "", .op = "", .text = ""};
        if (i == s->air && s->beat == BP_NO_INDEX)
            return;
        e.kind = BP_DAY_HIT;
        bpi_watch_event(w, &e);
        for (uint32_t k = 0; k < a->beats.n && (i < s->air || k <= s->beat); k++) {
            const bp_beat *b = &p->beat[a->beats.first + k];
            e.kind = BP_DAY_BEAT;
            e.at = b->from;
            e.beat = b->id;
            if (!b->dropped)
                bpi_watch_event(w, &e);
        }
        e.kind = BP_DAY_OFF;
        e.at = a->hit + a->slot;
        if (i < s->air)
            bpi_watch_event(w, &e);
    }
}

int64_t bpi_start_at(const bp_plan *p, const bpi_start *s)
{
    const bp_air *a = &p->air[s->air];
    return s->beat == BP_NO_INDEX ? a->hit - RUN_UP : p->beat[a->beats.first + s->beat].from;
}
