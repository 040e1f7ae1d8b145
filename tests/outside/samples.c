/* tests/outside/samples.c - write the files of the sample plan for checks by other programs.
 *
 *   samples FOLDER ZONE YYYY-MM-DD SHIFT [gone]
 *
 * SHIFT moves everything by so many seconds, into the hours in which clocks change. With `gone` some
 * operations are nobody's any more: their events are cancelled where FOLDER holds the earlier files.
 */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "backpot/output.h"
#include "base/clock.h"
#include "base/zone.h"
#include "support/plan_sample.h"

static void move(int64_t *t, int64_t shift)
{
    if (*t != BP_NO_TIME)
        *t += shift;
}

static void move_all(plan_sample *s, int64_t shift)
{
    for (uint32_t i = 0; i < s->plan.ops; i++) {
        bp_op *o = &s->op[i];
        int64_t *const times[] = {&o->from,     &o->to,          &o->off_least,
                                  &o->off_most, &o->latest_from, &o->hold_until};
        for (size_t k = 0; k < sizeof times / sizeof *times; k++)
            move(times[k], shift);
    }
    for (uint32_t i = 0; i < s->plan.containers; i++) {
        bp_container *c = &s->container[i];
        int64_t *const times[] = {&c->set_by, &c->on_set,  &c->needed,
                                  &c->last,   &c->best_by, &c->use_by};
        for (size_t k = 0; k < sizeof times / sizeof *times; k++)
            move(times[k], shift);
    }
    for (uint32_t i = 0; i < s->plan.airs; i++) {
        move(&s->air[i].hit, shift);
        move(&s->air[i].set_by, shift);
    }
    for (uint32_t i = 0; i < s->plan.beats; i++)
        if (!s->beat[i].dropped)
            move(&s->beat[i].from, shift);
}

static bool place(plan_sample *s, const char *zone, const char *day)
{
    bpi_date date;
    bpi_zone z;
    bpi_clock clock;
    if (!bpi_civil_read(&date, day, strlen(day)) || bpi_zone_find(&z, zone) != BP_OK ||
        !bpi_clock_init(&clock, &z, date))
        return false;
    s->plan.zone = zone;
    s->plan.year = date.year;
    s->plan.month = date.month;
    s->plan.day = date.day;
    s->plan.midnight = clock.midnight_utc;
    return true;
}

int main(int argc, char **argv)
{
    static plan_sample sample;
    static bp_errors errs;
    if (argc < 5) {
        fprintf(stderr, "samples FOLDER ZONE YYYY-MM-DD SHIFT [gone]\n");
        return 2;
    }
    plan_sample_fill(&sample);
    move_all(&sample, strtol(argv[4], NULL, 10));
    if (!place(&sample, argv[2], argv[3])) {
        fprintf(stderr, "no such zone or day: %s %s\n", argv[2], argv[3]);
        return 2;
    }
    for (uint32_t i = 0; argc > 5 && i < sample.plan.ops; i += 3)
        if (sample.op[i].kind == BP_OP_ACTIVE)
            sample.op[i].person = BP_NO_INDEX;
    bp_output_options options = {.folder = argv[1]};
    options.leave_out = 1u << BP_OUT_CUE_SHEET | 1u << BP_OUT_PREP_SHEET |
                        1u << BP_OUT_TIMELINE_PDF | 1u << BP_OUT_TIMELINE_SVG |
                        1u << BP_OUT_LABELS | 1u << BP_OUT_TRAY_MAP | 1u << BP_OUT_PULL_SHEET |
                        1u << BP_OUT_PACK_SHEET | 1u << BP_OUT_STRIKE_SHEET;
    bp_files *files = NULL;
    bp_code rc = bp_outputs_write(&files, &sample.plan, &options, &errs);
    if (rc == BP_OK)
        rc = bp_outputs_save(files, argv[1], &errs);
    for (uint32_t i = 0; i < errs.n; i++) {
        char line[1024];
        bp_error_text(line, sizeof line, &errs.item[i]);
        fprintf(stderr, "%s\n", line);
    }
    bp_files_free(files);
    bpi_zone_release_all();
    return rc == BP_OK ? EXIT_SUCCESS : EXIT_FAILURE;
}
