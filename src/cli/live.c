/* src/cli/live.c - backpot live: a clock for the floor or the kitchen, full screen, with a log. */
#include <inttypes.h>
#include <stdio.h>
#include <string.h>
#include <time.h>

#include "backpot/floor.h"
#include "backpot/show.h"
#include "base/each.h"
#include "base/error.h"
#include "base/text.h"
#include "cli/board.h"
#include "cli/command.h"
#include "cli/face.h"
#include "cli/message.h"
#include "cli/renewal.h"
#include "cli/screen.h"
#include "cli/start.h"
#include "cli/tend.h"
#include "cli/watch.h"

#define MOST_SPEED 60
#define DAY        86400 /* s: nobody opens the clock longer before the first hit */
#define SOON       60    /* s before a hit: no more planning                        */

enum { LOG, KITCHEN, REHEARSE, AIR, FROM, SPEED };
static const bpi_option options[] = {
    [LOG] = {"log", "FILE", "keep the log there, instead of beside the show file", 'l'},
    [KITCHEN] = {"kitchen", NULL, "the prep day instead: what each cook does, and what is late",
                 'k'},
    [REHEARSE] = {"rehearse", NULL, "run now, whatever the date; no log unless one is named", 'r'},
    [AIR] = {"air", "ID", "rehearse this appearance, such as main or main/2", 0},
    [FROM] = {"from", "BEAT",
              "rehearse from this beat on, in the kitchen from this time, such as 07:20", 0},
    [SPEED] = {"speed", "N", "rehearse N times as fast, 1 to 60", 0},
};

/* Where plan time comes from: the wall clock, or a rehearsal's own. */
typedef struct source {
    bool rehearsal;
    int64_t midnight, base;
    uint32_t speed;
    struct timespec start;
} source;

static int64_t now(const source *s)
{
    struct timespec t;
    if (!s->rehearsal) {
        clock_gettime(CLOCK_REALTIME, &t);
        return (int64_t)t.tv_sec - s->midnight;
    }
    clock_gettime(CLOCK_MONOTONIC, &t);
    int64_t ms =
        (int64_t)(t.tv_sec - s->start.tv_sec) * 1000 + (t.tv_nsec - s->start.tv_nsec) / 1000000;
    return s->base + ms * s->speed / 1000;
}

/* ---- the loop -------------------------------------------------------------------------------- */

/* One of the two clocks. */
typedef struct clockwork {
    const bp_show *show;
    bpi_watch *watch; /* NULL: it is the kitchen's */
    bpi_tend *tend;
    bpi_renewal renewal;
    bool on_air; /* or about to be: then nothing makes the clock stand still */
} clockwork;

static bpi_journal *journal_of(const clockwork *c)
{
    return c->watch ? &c->watch->log : &c->tend->log;
}

static bp_code draw_floor(bpi_grid *g, clockwork *c, uint32_t speed, int64_t at, bp_errors *errs)
{
    bpi_watch *w = c->watch;
    bp_floor_view view;
    bp_code rc = bp_floor_look(&view, bpi_watch_floor(w), at, errs);
    if (rc != BP_OK)
        return rc;
    c->on_air = view.phase == BP_FLOOR_ON || view.phase == BP_FLOOR_HELD ||
                (view.phase == BP_FLOOR_BEFORE && view.hit - at < SOON);
    bpi_face face = {.plan = w->plan,
                     .floor = bpi_watch_floor(w),
                     .view = &view,
                     .speed = speed,
                     .mark = w->mark,
                     .message = bpi_watch_message(w),
                     .alarm = w->log.alarm};
    bpi_face_draw(g, &face);
    return BP_OK;
}

static void draw_kitchen(bpi_grid *g, const clockwork *c, uint32_t speed, int64_t at)
{
    const bpi_tend *t = c->tend;
    bp_kitchen_view view;
    bp_kitchen_look(&view, bpi_tend_kitchen(t), at);
    bpi_board board = {.plan = t->plan,
                       .kitchen = bpi_tend_kitchen(t),
                       .view = &view,
                       .speed = speed,
                       .mark = t->mark,
                       .message = t->log.message,
                       .alarm = t->log.alarm[0] ? t->log.alarm : c->renewal.behind};
    bpi_board_draw(g, &board);
}

static bp_code draw(bpi_grid *g, clockwork *c, const source *s, int64_t at, bp_errors *errs)
{
    int rows = 0, columns = 0;
    uint32_t speed = s->rehearsal ? s->speed : 0;
    bp_code rc = BP_OK;
    bpi_screen_size(&rows, &columns);
    if (!bpi_grid_reset(g, rows, columns))
        return bpi_error_no_memory(errs);
    if (c->watch)
        rc = draw_floor(g, c, speed, at, errs);
    else
        draw_kitchen(g, c, speed, at);
    if (rc == BP_OK)
        bpi_screen_show(g);
    return rc;
}

static void press(const clockwork *c, int key, int64_t at)
{
    if (c->watch)
        bpi_watch_key(c->watch, key, at);
    else
        bpi_tend_key(c->tend, key, at);
}

static bp_code run_clock(clockwork *c, const source *s, bp_errors *errs)
{
    bpi_grid g = {0};
    bp_code rc = BP_OK;
    int64_t last = now(s), ticked = last - 1;
    while (rc == BP_OK && !(c->watch ? c->watch->leave : c->tend->leave)) {
        int64_t at = now(s);
        if (at < last)
            at = last; /* the wall clock was set back */
        last = at;
        if (at != ticked)
            bpi_journal_tick(journal_of(c));
        if (at != ticked)
            bpi_renewal_take(&c->renewal, c->show, c->watch, c->tend, c->on_air);
        ticked = at;
        rc = draw(&g, c, s, at, errs);
        int key = rc == BP_OK ? bpi_screen_key(100) : BPI_KEY_NONE;
        if (key == BPI_KEY_GONE)
            rc = bpi_error_add(errs, BP_EIO, BPI_NOWHERE, "the terminal is gone",
                               "start live again: it goes on from its log");
        else if (key == BPI_KEY_RESIZE)
            bpi_screen_redraw();
        else if (key != BPI_KEY_NONE)
            press(c, key, now(s) > last ? now(s) : last);
    }
    bpi_grid_release(&g);
    return rc;
}

/* ---- before it ------------------------------------------------------------------------------- */

static bp_code check_day(const bp_plan *p, const source *s, bp_errors *errs)
{
    int64_t at = now(s);
    const bp_air *last = &p->air[p->airs - 1];
    int64_t first = p->ops && p->op[0].from < p->air[0].hit ? p->op[0].from : p->air[0].hit;
    if (at >= first - DAY && at <= last->hit + last->slot + DAY)
        return BP_OK;
    return bpi_error_f(errs, BP_EVALUE, (bpi_where){.file = p->file}, "rehearse it with --rehearse",
                       "the show is on %04d-%02d-%02d, which is not near", p->year, p->month,
                       p->day);
}

/* "morning.json" keeps its log in "morning.log". */
static bp_code log_path(bpi_text *out, const char *show, const char *given, bp_errors *errs)
{
    size_t n = strlen(show);
    if (n > 5 && strcmp(show + n - 5, ".json") == 0)
        n -= 5;
    if (given)
        bpi_text_put(out, given);
    else
        bpi_text_f(out, "%.*s.log", (int)n, show);
    return out->failed ? bpi_error_no_memory(errs) : BP_OK;
}

static bp_code open_book(bp_logbook **out, const bp_plan *p, const char *show, const char *given,
                         bool rehearsal, bp_errors *errs)
{
    bpi_text path = BPI_TEXT_EMPTY;
    bp_log_head head = {p->show_id, p->stamp, rehearsal};
    bp_code rc = BP_OK;
    if (given || !rehearsal)
        rc = log_path(&path, show, given, errs);
    if (rc == BP_OK && path.len)
        rc = bp_logbook_open(out, path.s, &head, errs);
    bpi_text_release(&path);
    return rc;
}

/* Where a rehearsal stands at its start: where its log ends, else where it was asked to begin. */
static void set_out(const clockwork *c, source *s, const bpi_start *from)
{
    const bpi_journal *j = journal_of(c);
    const bp_log *log = j->book ? bp_logbook_log(j->book) : NULL;
    if (s->rehearsal && log && log->events > 0) {
        s->base = log->event[log->events - 1].at;
    } else if (s->rehearsal && c->watch) {
        s->base = bpi_start_at(j->plan, from);
        bpi_start_run_up(c->watch, from);
    } else if (s->rehearsal) {
        s->base = from->at;
        bpi_tend_catch_up(c->tend, from->at);
    }
    clock_gettime(CLOCK_MONOTONIC, &s->start);
}

static bp_code run_on(clockwork *c, source *s, const bpi_start *from, bp_errors *errs)
{
    bpi_journal *j = journal_of(c);
    set_out(c, s, from);
    bp_event e = {.kind = BP_DAY_OPEN, .at = now(s), .air = "", .beat = "", .op = "", .text = ""};
    bpi_journal_event(j, &e);
    bp_code rc = bpi_screen_open(errs);
    if (rc == BP_OK)
        rc = run_clock(c, s, errs);
    bpi_screen_close();
    bpi_journal_tick(j); /* the last chance for what could not be written */
    if (j->lost_n && rc == BP_OK)
        rc = bpi_error_f(errs, BP_EIO, BPI_NOWHERE, "", "%u events could not be written to the log",
                         (unsigned)j->lost_n);
    else if (j->alarm[0] && rc == BP_OK)
        rc = bpi_error_f(errs, BP_EIO, BPI_NOWHERE, "", "%s", j->alarm);
    return rc;
}

static bp_code run_either(const bp_show *show, const bp_plan *p, bp_logbook *book, bool kitchen,
                          source *s, const bpi_start *from, bp_errors *errs)
{
    bpi_watch w;
    bpi_tend t;
    clockwork c = {.show = show};
    bp_code rc = kitchen ? bpi_tend_init(&t, p, book, errs) : bpi_watch_init(&w, p, book, errs);
    if (rc != BP_OK)
        return rc;
    if (kitchen)
        c.tend = &t;
    else
        c.watch = &w;
    rc = run_on(&c, s, from, errs);
    if (kitchen)
        bpi_tend_release(&t);
    else
        bpi_watch_release(&w);
    bpi_renewal_release(&c.renewal);
    return rc;
}

static bp_code live(const char *path, const bpi_args *args, uint32_t speed, bp_errors *errs)
{
    bp_show *show = NULL;
    bp_plan *plan = NULL;
    bp_logbook *book = NULL;
    bpi_start from = {0, BP_NO_INDEX, 0};
    bool kitchen = args->value[KITCHEN] != NULL;
    source s = {.rehearsal = args->value[REHEARSE] != NULL, .speed = speed};
    bp_code rc = bp_show_open(&show, path, errs);
    if (rc == BP_OK) {
        bp_plan_options quick = {.no_fixes = true, .threads = bpi_each_processors()};
        rc = bp_plan_make(&plan, show, &quick, errs);
        if ((rc == BP_ENOFIT || rc == BP_EUNSURE) && plan && plan->verdict == BP_LATE) {
            rc = BP_OK; /* the floor goes on air all the same */
            errs->n = errs->more = 0;
        }
    }
    if (rc == BP_OK) {
        s.midnight = plan->midnight;
        if (!s.rehearsal)
            rc = check_day(plan, &s, errs);
        else if (kitchen)
            rc = bpi_start_moment(&from, plan, args->value[FROM], errs);
        else
            rc = bpi_start_beat(&from, plan, args->value[AIR], args->value[FROM], errs);
    }
    if (rc == BP_OK)
        rc = open_book(&book, plan, path, args->value[LOG], s.rehearsal, errs);
    if (rc == BP_OK)
        rc = run_either(show, plan, book, kitchen, &s, &from, errs);
    bp_logbook_close(book);
    bp_plan_free(plan);
    bp_show_free(show);
    return rc;
}

static bpi_exit run(const bpi_args *args)
{
    bp_errors errs = {0};
    uint32_t speed = 1;
    bpi_args_number(&speed, args, options, SPEED, 1, MOST_SPEED, &errs);
    for (unsigned i = AIR; i <= SPEED; i++)
        if (args->value[i] && !args->value[REHEARSE])
            bpi_error_f(&errs, BP_EVALUE, BPI_NOWHERE, "add --rehearse",
                        "option --%s is for a rehearsal", options[i].name);
    if (args->value[AIR] && args->value[KITCHEN])
        bpi_error_add(&errs, BP_EVALUE, BPI_NOWHERE, "option --air is for the floor",
                      "leave it out");
    if (errs.n)
        return bpi_message_usage(&errs, "live");
    bp_code rc = live(args->operand[0], args, speed, &errs);
    bpi_message_errors(&errs);
    return bpi_message_exit(rc);
}

const bpi_command bpi_command_live = {
    .name = "live",
    .operands = "SHOW",
    .help = "run the clock of a slot, or of the kitchen's day, full screen",
    .more =
        "It shows the beat on air and what is left of it, what is left of the slot, over or\n"
        "under, the words, and which containers come and go. Whatever is pressed, the beats\n"
        "that are left are fitted anew at once.\n\n"
        "  SPACE  on air; next beat; after the last one, off air\n"
        "  B      back: the last SPACE was a mistake\n"
        "  H      hold the slot; again: go on\n"
        "  D      drop the beat that is next, or marked; again: keep it\n"
        "  C      the slot is cut: by how much\n"
        "  L      the hit comes late: by how much in all\n"
        "  UP, DOWN  mark a beat\n"
        "  Q      leave\n\n"
        "With --kitchen it shows the prep day: what each cook has in hand and does next, what is\n"
        "late, what cooks unattended and when it comes off.\n\n"
        "  1 2 3  this cook begins, or is done and goes on to what is due\n"
        "  UP, DOWN  mark a cook;  SPACE  the same for the marked one\n"
        "  N      the marked cook does the next thing first\n"
        "  U      undo the last tick\n"
        "  Q      leave\n\n"
        "After \"mend --log\" both clocks go on by the mended plan, and keep what was pressed.\n\n"
        "Each of these is written to the log, SHOW.log beside SHOW.json, before it shows. After\n"
        "a crash, a kill or a lost terminal start it again: it goes on where the log ends.\n",
    .option = options,
    .options = sizeof options / sizeof *options,
    .least = 1,
    .most = 1,
    .run = run,
};
