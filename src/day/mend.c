/* src/day/mend.c - a plan mended: the past frozen, what is gone taken away, the rest moved little.
 *
 * Owns     what is known of the day so far, while a list of mishaps is worked through.
 * May use  plan/, prep/, live/, engine (its public header), the public header of the kitchen, day/, base/.
 * Units    engine time is whole minutes, as in prep/prep.h.
 *
 * Each mishap is one more problem of the engine: the show's own, with the rows that tie the past down
 * and take away what is not there any more, and a first goal that counts what moves.
 */
#include "backpot/mend.h"

#include <assert.h>
#include <inttypes.h>
#include <string.h>

#include "base/digest.h"
#include "backpot/kitchen.h"
#include "day/actual.h"
#include "day/bind.h"
#include "day/log.h"
#include "plan/fill.h"
#include "plan/verify.h"

typedef struct mending {
    bpi_day day;
    const bpi_show *show;
    bpi_arena *a; /* until the end of the whole */
    bpi_live *live;
    bpi_text said;                    /* all lines, for the stamp */
    bp_plan *made[BP_MEND_LINES + 1]; /* the plan as it was, then after each mishap */
    uint32_t mades;
    const uint32_t *op_of; /* of its jobs */
    const bp_log *log;     /* NULL: all goes to plan */
    uint32_t taken, until; /* of log.event: taken in; of them also those from taken on */
    uint32_t mishaps;      /* of the log, with the one that is taken in  */
    struct bpi_tick *tick; /* from `taken` until `until`, for the checker */
    uint32_t ticks;
    bp_errors *errs;
} mending;

/* After the mishaps so far. */
static const bp_plan *plan_of(const mending *m)
{
    return m->made[m->mades - 1];
}

static int64_t plan_now(const bpi_day *d)
{
    return d->prep->zero + (int64_t)d->now * 60;
}

/* ---- what is known --------------------------------------------------------------------------- */

static bp_code begin(mending *m, bp_errors *errs)
{
    bp_code rc = bpi_live_make(&m->live, m->a, m->show, errs);
    bpi_prep *prep = NULL;
    bpi_schedule *schedule = NULL;
    bp_eng_limits limits = {0};
    if (rc == BP_OK)
        rc = bpi_prep_make(&prep, m->a, m->show, m->live, NULL, errs);
    if (rc == BP_OK)
        rc = bpi_solve(&schedule, m->a, prep, &limits, errs);
    if (rc == BP_OK && !schedule->start)
        rc = bpi_error_add(errs, BP_ENOFIT, (bpi_where){.file = m->show->file},
                           "there is no plan to mend: the show cannot be planned as written",
                           "see backpot plan");
    if (rc == BP_OK)
        rc = bpi_day_init(&m->day, m->a, prep, schedule, errs);
    return rc;
}

/* ---- one mishap ------------------------------------------------------------------------------ */

static bp_code solve(bpi_prep **prep, bpi_schedule **schedule, bpi_match *match, mending *m,
                     bool late, bp_eng_problem *plain)
{
    bpi_prep_change change = {.late = late, .apart = m->day.apart};
    bp_eng_limits limits = {0};
    bp_code rc = bpi_prep_make(prep, m->a, m->show, m->live, &change, m->errs);
    if (rc == BP_OK)
        *plain = (*prep)->problem;
    if (rc == BP_OK)
        rc = bpi_match_make(match, *prep, &m->day, m->errs);
    if (rc == BP_OK)
        rc = bpi_bind(*prep, &m->day, match, late, &limits.hint, m->errs);
    if (rc == BP_OK)
        rc = bpi_solve(schedule, m->a, *prep, &limits, m->errs);
    return rc;
}

static bpi_amends amends_of(const mending *m, const bp_plan *before)
{
    const bpi_day *d = &m->day;
    return (bpi_amends){.before = before,
                        .now = plan_now(d),
                        .lost = d->lost,
                        .apart = d->apart,
                        .dead = d->dead,
                        .burner = d->burner,
                        .burners = d->burners,
                        .away = d->away,
                        .aways = d->aways,
                        .longer = d->longer,
                        .longers = d->longers,
                        .ticked = d->ticked,
                        .tick = m->tick,
                        .ticks = m->ticks};
}

static bp_code fill(bp_plan **out, mending *m, const bpi_schedule *schedule, const uint32_t *name,
                    bool late)
{
    assert(schedule);
    bpi_arena *kept = bpi_arena_new();
    bpi_fill f = {.a = kept,
                  .show = m->show,
                  .written = m->show,
                  .live = m->live,
                  .prep = schedule->prep,
                  .schedule = schedule,
                  .name = name,
                  .again = m->day.apart};
    if (kept)
        f.plan = BPI_TAKE(kept, 1, bp_plan);
    if (!f.plan) {
        bpi_arena_free(kept);
        bpi_error_no_memory(m->errs);
        return BP_ENOMEM;
    }
    f.plan->own = kept;
    f.plan->work = schedule->work;
    f.plan->verdict = late && schedule->value[0] > 0 ? BP_LATE : BP_PLANNED;
    f.plan->mended = m->said.len > 0;
    f.plan->mended_at = f.plan->mended ? plan_now(&m->day) : 0;
    f.plan->mishaps = m->mishaps;
    bp_code rc = bpi_fill_all(&f, late, m->said.len > 0, m->errs);
    char stamp[BPI_DIGEST_TEXT];
    if (m->said.len) { /* another version than the show's own: papers must not be mixed up */
        bpi_text both = BPI_TEXT_EMPTY;
        bpi_text_f(&both, "%s\n%s", m->show->stamp, m->said.s);
        f.failed |= both.failed;
        if (!both.failed)
            bpi_digest_text(stamp, both.s, both.len);
        bpi_text_release(&both);
        if (!f.failed)
            f.plan->stamp = bpi_fill_copy(&f, stamp);
    }
    if (rc == BP_OK && (f.failed || m->said.failed))
        rc = bpi_error_no_memory(m->errs);
    if (rc == BP_OK) {
        *out = f.plan;
        m->op_of = f.op_of;
    } else
        bpi_arena_free(kept);
    return rc;
}

/* ---- what was ticked ------------------------------------------------------------------------- */

static bp_code list_ticks(mending *m)
{
    m->tick = BPI_TAKE(m->a, m->until - m->taken, struct bpi_tick);
    m->ticks = 0;
    if (!m->tick)
        return bpi_error_no_memory(m->errs);
    for (uint32_t i = m->taken; i < m->until; i++) {
        const bp_event *e = &m->log->event[i];
        if (!(bp_event_members(e->kind) & BP_HAS_OP))
            continue;
        m->tick[m->ticks++] = (struct bpi_tick){.op = e->op,
                                                .at = e->at,
                                                .what = e->kind == BP_DAY_START  ? BPI_TICK_START
                                                        : e->kind == BP_DAY_DONE ? BPI_TICK_DONE
                                                                                 : BPI_TICK_UNDO};
        /* Other ticks, another version of the plan. */
        bpi_text_f(&m->said, "%" PRId64 " %s %s\n", e->at, bp_event_word(e->kind), e->op);
    }
    return BP_OK;
}

/* The past as it happened, by the ticks since the last mishap. */
static bp_code look_back(mending *m)
{
    bp_kitchen *kitchen = NULL;
    if (!m->log)
        return BP_OK;
    bp_code rc = bp_kitchen_new(&kitchen, plan_of(m), m->errs);
    if (rc != BP_OK)
        return rc;
    bp_log so_far = *m->log;
    so_far.events = m->until;
    if (m->taken < m->until)
        rc = bp_kitchen_follow(kitchen, &so_far, m->errs);
    if (rc == BP_OK)
        rc = bpi_actual_take(&m->day, kitchen, m->op_of, m->errs);
    bp_kitchen_free(kitchen);
    return rc == BP_OK ? list_ticks(m) : rc;
}

/* Containers that need a step baked which no oven is left for. */
static void put_unbaked(bpi_text *out, const mending *m)
{
    const bpi_day *d = &m->day;
    const bpi_prep *p = d->prep;
    for (uint32_t b = 0; b < p->boxes; b++) {
        bool needs = false;
        for (uint32_t j = 0; j < p->problem.activities; j++) {
            uint32_t oven = p->job[j].kind == BP_OP_OVEN ? bpi_schedule_way(p, d->schedule, j)->oven
                                                         : BPI_NO_INDEX;
            bool baked = d->schedule->start[j] + d->schedule->length[j] <= d->now && !d->lost[b];
            for (uint32_t i = 0; oven != BPI_NO_INDEX && i < p->job[j].serves; i++)
                needs |=
                    p->serve[p->job[j].serve0 + i] == b && d->dead[oven] != BP_NO_TIME && !baked;
        }
        if (needs)
            bpi_text_f(out, "%s%s", out->len ? " " : "", p->box[b].code);
    }
}

static bp_code no_way(const mending *m, const char *line)
{
    bpi_text codes = BPI_TEXT_EMPTY;
    put_unbaked(&codes, m);
    bp_code rc = bpi_error_f(
        m->errs, BP_ENOFIT, BPI_NOWHERE,
        codes.len
            ? "find another oven or pot and write it into the show file, or leave their beats out"
        : m->day.aways ? "find one more cook for that time and write them into the show file, or "
                         "leave beats out"
                       : "undo what was ticked by mistake, or leave beats out",
        "after \"%.60s\" no plan was found, not even a late one%s%.80s", line,
        codes.len ? "; what must still be baked: " : "", codes.len ? codes.s : "");
    bpi_text_release(&codes);
    return rc;
}

static bp_code mend(mending *m, const char *line, bp_plan **after)
{
    bpi_mishap mishap;
    bpi_prep *prep = NULL;
    bpi_schedule *schedule = NULL;
    bpi_match match = {0};
    bp_eng_problem plain;
    const uint32_t *name = NULL;
    bool late = false;
    bp_code rc = bpi_mishap_read(&mishap, m->day.prep, line, m->errs);
    if (rc == BP_OK)
        rc = bpi_day_go_on(&m->day, &mishap, m->errs);
    if (rc == BP_OK)
        rc = look_back(m);
    if (rc == BP_OK)
        rc = bpi_day_take(&m->day, &mishap, m->errs);
    if (rc == BP_OK)
        rc = solve(&prep, &schedule, &match, m, false, &plain);
    if (rc == BP_OK && !schedule->start) {
        late = true;
        rc = solve(&prep, &schedule, &match, m, true, &plain);
        if (rc == BP_OK && !schedule->start)
            rc = no_way(m, line);
    }
    if (rc == BP_OK && !(name = bpi_match_names(&match, prep, &m->day, schedule)))
        rc = bpi_error_no_memory(m->errs);
    if (rc != BP_OK)
        return rc;
    bpi_text_f(&m->said, "%s\n", line);
    rc = fill(after, m, schedule, name, late);
    if (rc != BP_OK)
        return rc;
    bpi_amends amends = amends_of(m, plan_of(m));
    rc = bpi_verify_mended(*after, m->show, &amends, m->errs);
    if (rc == BP_OK) {
        m->day.prep = prep;
        m->day.lag = plain.lag;
        m->day.lags = plain.lags;
        m->day.schedule = schedule;
        m->day.name = name;
    } else {
        bp_plan_free(*after);
        *after = NULL;
    }
    return rc;
}

/* And go on from there. */
static bp_code mend_on(mending *m, const char *line)
{
    m->mishaps += m->log != NULL; /* it stands in the log, or is entered there next */
    bp_code rc = mend(m, line, &m->made[m->mades]);
    if (rc == BP_OK) {
        m->mades++;
        m->taken = m->until;
    }
    return rc;
}

/* Each mishap of the log by what had been ticked when it was entered, then those that are said now by all
 * that has. */
static bp_code mend_all(mending *m, const char *const *line, uint32_t lines)
{
    bp_code rc = BP_OK;
    for (uint32_t i = 0; m->log && i < m->log->events && rc == BP_OK; i++) {
        const bp_event *e = &m->log->event[i];
        if (e->kind != BP_DAY_MISHAP)
            continue;
        m->until = i;
        rc = mend_on(m, e->text);
        m->taken = i + 1;
        if (rc != BP_OK)
            bpi_error_add(m->errs, rc, (bpi_where){.file = m->log->file, .line = e->line, .col = 1},
                          "this mishap of the log cannot be taken in", "");
    }
    m->until = m->log ? m->log->events : 0;
    for (uint32_t i = 0; rc == BP_OK && i < lines; i++)
        rc = mend_on(m, line[i]);
    return rc;
}

static bp_code check_count(const bp_log *log, uint32_t lines, bp_errors *errs)
{
    uint32_t n = lines;
    for (uint32_t i = 0; log && i < log->events; i++)
        n += log->event[i].kind == BP_DAY_MISHAP;
    if (n > 0 && n <= BP_MEND_LINES)
        return BP_OK;
    return bpi_error_f(errs, BP_EVALUE, BPI_NOWHERE, "say each thing in one line",
                       "between 1 and %d mishaps can be mended at once, not %" PRIu32,
                       BP_MEND_LINES, n);
}

/* What is made is released by the caller, however it ends. */
static bp_code work_through(mending *m, const char *const *line, uint32_t lines, bp_errors *errs)
{
    bp_code rc = check_count(m->log, lines, errs);
    if (rc != BP_OK)
        return rc;
    m->a = bpi_arena_new();
    rc = m->a ? begin(m, errs) : bpi_error_no_memory(errs);
    m->day.ticked = m->log != NULL;
    if (rc == BP_OK)
        rc = fill(&m->made[0], m, m->day.schedule, NULL, false);
    m->mades = rc == BP_OK;
    if (rc == BP_OK && m->log)
        rc = bpi_log_is_of(m->log, m->made[0]->show_id, m->made[0]->stamp, errs);
    return rc == BP_OK ? mend_all(m, line, lines) : rc;
}

static void release(mending *m)
{
    for (uint32_t i = 0; i < m->mades; i++)
        bp_plan_free(m->made[i]);
    bpi_text_release(&m->said);
    bpi_arena_free(m->a);
}

bp_code bp_plan_mend_day(bp_plan **out, bp_plan **before, int64_t *now, const bp_show *show,
                         const bp_log *log, const char *const *line, uint32_t lines,
                         bp_errors *errs)
{
    *out = *before = NULL;
    mending m = {.show = show, .said = BPI_TEXT_EMPTY, .log = log, .errs = errs};
    bp_code rc = work_through(&m, line, lines, errs);
    if (rc == BP_OK) {
        *out = m.made[--m.mades];
        *before = m.made[--m.mades];
        *now = plan_now(&m.day);
        if ((*out)->verdict == BP_LATE)
            rc = bpi_error_add(
                errs, BP_ENOFIT, BPI_NOWHERE,
                "nothing brings everything there in time: this is the least-late plan",
                "drop a beat, or do without the container");
        if ((*out)->stopped)
            rc = bpi_fill_stopped(*out, show, errs);
    }
    release(&m);
    return rc;
}

bp_code bp_plan_mend_each(bp_plan *plan[BP_MEND_LINES], uint32_t *n, const bp_show *show,
                          const bp_log *log, bp_errors *errs)
{
    mending m = {.show = show, .said = BPI_TEXT_EMPTY, .log = log, .errs = errs};
    bp_code rc = work_through(&m, NULL, 0, errs);
    *n = 0;
    for (; *n + 1 < m.mades; ++*n)
        plan[*n] = m.made[*n + 1];
    m.mades = m.mades > 0; /* the others are the caller's */
    release(&m);
    return rc;
}

bp_code bp_plan_mend(bp_plan **out, bp_plan **before, int64_t *now, const bp_show *show,
                     const char *const *line, uint32_t lines, bp_errors *errs)
{
    return bp_plan_mend_day(out, before, now, show, NULL, line, lines, errs);
}
