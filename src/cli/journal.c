#include "cli/journal.h"

#include <stdio.h>
#include <string.h>

#include "backpot/floor.h"

/* ---- kinds ----------------------------------------------------------------------------------- */

static bp_code floor_make(void **out, const bp_plan *plan, bp_errors *errs)
{
    bp_floor *floor = NULL;
    bp_code rc = bp_floor_new(&floor, plan, errs);
    *out = floor;
    return rc;
}

static void floor_drop(void *state)
{
    bp_floor_free(state);
}

static bp_code floor_can(const void *state, const bp_event *e, bp_errors *errs)
{
    return bp_floor_can(state, e, errs);
}

static bp_code floor_apply(void *state, const bp_event *e, bp_errors *errs)
{
    return bp_floor_apply(state, e, errs);
}

static bp_code floor_follow(void *state, const bp_log *log, bp_errors *errs)
{
    return bp_floor_follow(state, log, errs);
}

static bool floor_behind(const void *state)
{
    return bp_floor_is_behind(state);
}

const bpi_day_kind bpi_day_floor = {floor_make,  floor_drop,   floor_can,
                                    floor_apply, floor_follow, floor_behind};

/* ---- the log --------------------------------------------------------------------------------- */

bp_code bpi_journal_init(bpi_journal *j, const bpi_day_kind *kind, const bp_plan *plan,
                         bp_logbook *book, bp_errors *errs)
{
    *j = (bpi_journal){.kind = kind, .plan = plan, .book = book};
    bp_code rc = kind->make(&j->state, plan, errs);
    if (rc == BP_OK && book)
        rc = kind->follow(j->state, bp_logbook_log(book), errs);
    if (rc != BP_OK)
        bpi_journal_release(j);
    return rc;
}

void bpi_journal_release(bpi_journal *j)
{
    if (j->kind)
        j->kind->drop(j->state);
    *j = (bpi_journal){0};
}

void bpi_journal_alarm(bpi_journal *j, const char *what, const bp_errors *errs)
{
    char line[1024] = "";
    if (errs->n)
        bp_error_text(line, sizeof line, &errs->item[0]);
    snprintf(j->alarm, sizeof j->alarm, "%s %.150s", what, line);
}

bp_code bpi_journal_anew(bpi_journal *j, const bp_plan *plan, bp_errors *errs)
{
    void *state = NULL;
    bp_code rc = j->kind->make(&state, plan, errs);
    if (rc == BP_OK)
        rc = j->kind->follow(state, bp_logbook_log(j->book), errs);
    j->kind->drop(rc == BP_OK ? j->state : state);
    if (rc == BP_OK) {
        j->state = state;
        j->plan = plan;
    }
    return rc;
}

/* Once the log is whole again. */
static void start_anew(bpi_journal *j)
{
    bp_errors errs = {0};
    if (bpi_journal_anew(j, j->plan, &errs) == BP_OK)
        j->alarm[0] = '\0';
    else
        bpi_journal_alarm(j, "THE LOG DOES NOT FIT:", &errs);
}

void bpi_journal_tick(bpi_journal *j)
{
    bp_errors errs = {0};
    if (!j->book)
        return;
    if (j->lost_n == 0) {
        bp_code rc = bp_logbook_catch_up(j->book, &errs);
        if (rc == BP_OK)
            rc = j->kind->follow(j->state, bp_logbook_log(j->book), &errs);
        if (rc == BP_OK)
            j->alarm[0] = '\0';
        else
            bpi_journal_alarm(j, "LOG:", &errs);
        return;
    }
    uint32_t n = 0;
    while (n < j->lost_n && bp_logbook_add(j->book, &j->lost[n], &errs) == BP_OK)
        n++;
    memmove(j->lost, j->lost + n, (j->lost_n - n) * sizeof *j->lost);
    j->lost_n -= n;
    if (j->lost_n == 0)
        start_anew(j);
    else
        bpi_journal_alarm(j, "NOT WRITTEN DOWN:", &errs);
}

void bpi_journal_event(bpi_journal *j, const bp_event *e)
{
    bp_errors errs = {0};
    j->message[0] = '\0';
    if (j->kind->can(j->state, e, &errs) != BP_OK) {
        snprintf(j->message, sizeof j->message, "%.150s", errs.item[0].wrong);
        return;
    }
    if (j->book && j->lost_n == 0) {
        bp_code rc = bp_logbook_add(j->book, e, &errs);
        if (rc == BP_OK)
            rc = j->kind->follow(j->state, bp_logbook_log(j->book), &errs);
        if (rc == BP_OK)
            return;
        bpi_journal_alarm(j, "NOT WRITTEN DOWN:", &errs);
    }
    if (j->book && j->lost_n < BPI_JOURNAL_LOST)
        j->lost[j->lost_n++] = *e;
    j->kind->apply(j->state, e, &errs);
}
