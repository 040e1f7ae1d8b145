#include "cli/watch.h"

#include <stdio.h>
#include <string.h>

#include "cli/face.h"
#include "cli/screen.h"

#define EARLY 60 /* s before the hit: nobody goes on air so early without being asked */

bp_code bpi_watch_init(bpi_watch *w, const bp_plan *plan, bp_logbook *book, bp_errors *errs)
{
    *w = (bpi_watch){.plan = plan, .mark = BP_NO_INDEX};
    return bpi_journal_init(&w->log, &bpi_day_floor, plan, book, errs);
}

void bpi_watch_release(bpi_watch *w)
{
    bpi_journal_release(&w->log);
    *w = (bpi_watch){0};
}

bp_code bpi_watch_go_on(bpi_watch *w, const bp_plan *plan, bp_errors *errs)
{
    bp_code rc = bpi_journal_anew(&w->log, plan, errs);
    if (rc == BP_OK)
        w->plan = plan;
    return rc;
}

const bp_floor *bpi_watch_floor(const bpi_watch *w)
{
    return w->log.state;
}

void bpi_watch_tick(bpi_watch *w)
{
    bpi_journal_tick(&w->log);
}

void bpi_watch_event(bpi_watch *w, const bp_event *e)
{
    bpi_journal_event(&w->log, e);
}

/* ---- keys ------------------------------------------------------------------------------------ */

typedef struct moment {
    const bp_air *air;
    bp_floor_view view;
} moment;

static void say(bpi_watch *w, const moment *m, bp_event_kind kind, uint32_t beat, int64_t seconds)
{
    bp_event e = {.kind = kind,
                  .at = m->view.now,
                  .air = m->air->id,
                  .beat = beat == BP_NO_INDEX ? "" : w->plan->beat[m->air->beats.first + beat].id,
                  .op = "",
                  .text = "",
                  .seconds = seconds};
    bpi_watch_event(w, &e);
}

static void go_on_air(bpi_watch *w, const moment *m)
{
    say(w, m, BP_DAY_HIT, BP_NO_INDEX, 0);
    if (m->view.next != BP_NO_INDEX)
        say(w, m, BP_DAY_BEAT, m->view.next, 0);
}

static void next(bpi_watch *w, const moment *m)
{
    w->mark = BP_NO_INDEX;
    switch (m->view.phase) {
    case BP_FLOOR_BEFORE:
        if (m->view.hit - m->view.now > EARLY)
            w->ask = BPI_ASK_EARLY;
        else
            go_on_air(w, m);
        break;
    case BP_FLOOR_ON:
        if (m->view.next != BP_NO_INDEX)
            say(w, m, BP_DAY_BEAT, m->view.next, 0);
        else
            say(w, m, BP_DAY_OFF, BP_NO_INDEX, 0);
        break;
    case BP_FLOOR_HELD:
        snprintf(w->log.message, sizeof w->log.message, "the slot is held: press H to go on");
        break;
    case BP_FLOOR_OFF:
        break;
    }
}

static uint32_t last_of(uint64_t set)
{
    uint32_t last = BP_NO_INDEX;
    for (uint32_t i = 0; i < BP_SLOT_BEATS; i++)
        if (set >> i & 1)
            last = i;
    return last;
}

static void back(bpi_watch *w, const moment *m)
{
    uint32_t beat = last_of(m->view.done);
    if (beat == BP_NO_INDEX)
        snprintf(w->log.message, sizeof w->log.message, "there is no beat to go back to");
    else
        say(w, m, BP_DAY_BACK, beat, 0);
}

/* Drop the marked beat, or the next one; the same key again takes it back. */
static void drop(bpi_watch *w, const moment *m)
{
    uint32_t beat = w->mark != BP_NO_INDEX ? w->mark : m->view.next;
    if (beat == BP_NO_INDEX)
        snprintf(w->log.message, sizeof w->log.message, "there is no beat to drop");
    else
        say(w, m, m->view.out >> beat & 1 ? BP_DAY_KEEP : BP_DAY_DROP, beat, 0);
    w->mark = beat; /* the same key means the same beat again */
}

static void move_mark(bpi_watch *w, const moment *m, int by)
{
    int first = m->view.beat == BP_NO_INDEX ? 0 : (int)m->view.beat + 1;
    int n = (int)m->air->beats.n;
    int at = w->mark == BP_NO_INDEX ? (by > 0 ? first : n - 1) : (int)w->mark + by;
    w->mark = at < first || at >= n ? BP_NO_INDEX : (uint32_t)at;
}

/* "40", "0:40", "1:05", with '-' before it for the other way. false: no length. */
static bool read_length(int64_t *out, const char *s)
{
    int64_t part[2] = {0, 0};
    int sign = *s == '-' ? -1 : 1, n = 0, digits = 0;
    for (s += *s == '-'; *s; s++) {
        if (*s == ':' && n == 0 && digits > 0) {
            n = 1;
            digits = 0;
        } else if (*s >= '0' && *s <= '9') {
            part[n] = part[n] * 10 + (*s - '0');
            digits++;
        } else {
            return false;
        }
    }
    if (digits == 0 || (n == 1 && (digits != 2 || part[1] > 59)))
        return false;
    *out = sign * (n == 0 ? part[0] : part[0] * 60 + part[1]);
    return *out != 0 || sign > 0;
}

static void answer(bpi_watch *w, const moment *m)
{
    int64_t seconds = 0;
    bpi_ask asked = w->ask;
    w->ask = BPI_ASK_NOTHING;
    if (!read_length(&seconds, w->typed))
        snprintf(w->log.message, sizeof w->log.message, "\"%s\" is no length: type 40 or 0:40",
                 w->typed);
    else
        say(w, m, asked == BPI_ASK_CUT ? BP_DAY_CUT : BP_DAY_LATE, BP_NO_INDEX, seconds);
}

/* While a question stands, keys are its answer. */
static void type(bpi_watch *w, const moment *m, int key)
{
    size_t n = strlen(w->typed);
    bool yes = key == 'y' || key == 'Y';
    if (w->ask == BPI_ASK_EARLY || w->ask == BPI_ASK_LEAVE) {
        bpi_ask asked = w->ask;
        w->ask = BPI_ASK_NOTHING;
        if (yes && asked == BPI_ASK_EARLY && m->view.phase == BP_FLOOR_BEFORE)
            go_on_air(w, m);
        w->leave |= yes && asked == BPI_ASK_LEAVE;
    } else if (key == BPI_KEY_ESCAPE) {
        w->ask = BPI_ASK_NOTHING;
    } else if (key == BPI_KEY_ENTER) {
        answer(w, m);
    } else if (key == BPI_KEY_ERASE && n > 0) {
        w->typed[n - 1] = '\0';
    } else if (n + 1 < sizeof w->typed && key < 127 &&
               ((key >= '0' && key <= '9') || key == ':' || (key == '-' && n == 0))) {
        w->typed[n] = (char)key;
        w->typed[n + 1] = '\0';
    }
}

static void ask(bpi_watch *w, bpi_ask what)
{
    w->ask = what;
    w->typed[0] = '\0';
}

void bpi_watch_key(bpi_watch *w, int key, int64_t now)
{
    bp_errors errs = {0};
    moment m;
    if (bp_floor_look(&m.view, bpi_watch_floor(w), now, &errs) != BP_OK) {
        bpi_journal_alarm(&w->log, "", &errs);
        return;
    }
    m.air = &w->plan->air[m.view.air];
    w->log.message[0] = '\0';
    bool on = m.view.phase == BP_FLOOR_ON || m.view.phase == BP_FLOOR_HELD;
    if (w->ask != BPI_ASK_NOTHING) {
        type(w, &m, key);
        return;
    }
    switch (key) {
    case ' ':
    case BPI_KEY_ENTER:
        next(w, &m);
        break;
    case 'b':
    case 'B':
        back(w, &m);
        break;
    case 'h':
    case 'H':
        say(w, &m, m.view.phase == BP_FLOOR_HELD ? BP_DAY_GO_ON : BP_DAY_HOLD, BP_NO_INDEX, 0);
        break;
    case 'd':
    case 'D':
        drop(w, &m);
        break;
    case 'c':
    case 'C':
        ask(w, BPI_ASK_CUT);
        break;
    case 'l':
    case 'L':
        ask(w, BPI_ASK_LATE);
        break;
    case BPI_KEY_UP:
    case BPI_KEY_DOWN:
        move_mark(w, &m, key == BPI_KEY_UP ? -1 : 1);
        break;
    case BPI_KEY_ESCAPE:
        w->mark = BP_NO_INDEX;
        break;
    case 'q':
    case 'Q':
    case BPI_KEY_END:
        if (on)
            ask(w, BPI_ASK_LEAVE);
        else
            w->leave = true;
        break;
    default:
        break;
    }
}

const char *bpi_watch_message(bpi_watch *w)
{
    static const char *const questions[] = {
        [BPI_ASK_CUT] = "Cut by how much? (0:40; -0:20 gives time)",
        [BPI_ASK_LATE] = "How late is the hit, in all? (2:00)",
        [BPI_ASK_EARLY] = "The hit is more than a minute away. On air now? Y or N",
        [BPI_ASK_LEAVE] = "On air. Leave the clock? It comes back from its log. Y or N"};
    if (w->ask == BPI_ASK_CUT || w->ask == BPI_ASK_LATE)
        snprintf(w->log.message, sizeof w->log.message, "%s  %s_", questions[w->ask], w->typed);
    else if (w->ask != BPI_ASK_NOTHING)
        snprintf(w->log.message, sizeof w->log.message, "%s", questions[w->ask]);
    return w->log.message;
}
