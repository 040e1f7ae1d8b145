/* src/out/report.c - report.pdf: the day as it was planned and as it went, on one page.
 *
 * Owns     its picture and its tables.
 * May use  out/page, out/paper, out/facts, out/ink, base/; reads the plan and what was done.
 */
#include "backpot/after.h"

#include "backpot/show.h"
#include "base/span.h"
#include "out/facts.h"
#include "out/ink.h"
#include "out/page.h"
#include "out/paper.h"

#define PLANNED   0.85 /* grey of what was planned; black is what was done */
#define EDGE      0.6
#define TEAR      24.0
#define LONG      7200 /* s: a longer stretch in which nobody works is torn out */
#define ROW       17.0
#define SECTION   10.0
#define LABEL     92.0  /* column of names beside the bars           */
#define TABLE     130.0 /* kept for what ran over                    */
#define SLOT      76.0  /* an appearance: its line and its two bars  */
#define MOST_AIRS 3
#define HIGHEST   26.0 /* a bar of the kitchen, and its least height */
#define LOWEST    4.0

/* Time along a bar; between gap and on it is torn: nothing happens there. */
typedef struct scale {
    double left, wide;
    int64_t from, to;
    int64_t gap, on; /* equal: no gap */
} scale;

/* Points of a second. */
static double fine(const scale *s)
{
    return (s->wide - (s->on > s->gap ? TEAR : 0)) / (double)(s->to - s->from - (s->on - s->gap));
}

static double at(const scale *s, int64_t t)
{
    if (s->on == s->gap || t <= s->gap)
        return s->left + fine(s) * (double)(t - s->from);
    double gap = s->left + fine(s) * (double)(s->gap - s->from);
    return t < s->on ? gap + TEAR / 2 : gap + TEAR + fine(s) * (double)(t - s->on);
}

static const bp_after *after_of(const bpi_page *p)
{
    return p->sheet->of;
}

/* "0:30", "+0:05" */
static const char *span(bpi_page *p, int64_t seconds, bool plus)
{
    bpi_text t = BPI_TEXT_EMPTY;
    if (seconds == BP_NO_TIME)
        return "-";
    if (plus && seconds > 0)
        bpi_text_put(&t, "+");
    bpi_span_minutes(&t, seconds);
    const char *kept = bpi_page_f(p, "%s", t.failed ? "" : t.s);
    p->no_memory |= t.failed;
    bpi_text_release(&t);
    return kept;
}

static const char *moment(bpi_page *p, int64_t t)
{
    char text[BP_CLOCK_ROOM];
    return t == BP_NO_TIME ? "-" : bpi_page_f(p, "%s", bp_plan_clock(text, p->plan, t));
}

static void head(bpi_page *p, const char *text)
{
    bpi_page_text(p, BPI_FONT_STEP, text, p->left, p->y, p->right - p->left, BPI_LEFT);
    p->y += ROW + 3;
}

/* A bar with white text on black, or black on grey; the text only where it fits. */
static void bar(bpi_page *p, const scale *s, int64_t from, int64_t to, double y, double high,
                bool done, const char *text)
{
    double x = at(s, from), w = at(s, to) - x;
    if (done) { /* a white edge, so that what follows at once is another */
        bpi_page_fill(p, x + EDGE, y, w > 4 * EDGE ? w - 2 * EDGE : w / 2, high, 0);
    } else {
        bpi_page_fill(p, x, y, w, high, PLANNED);
        bpi_page_frame(p, x, y, w, high, 0.6);
    }
    if (text && high >= 10 && bpi_type_width(p->type, BPI_FONT_NOTE_BOLD, text) <= w - 4)
        bpi_page_text_grey(p, BPI_FONT_NOTE_BOLD, text, x + 1, y + (high - 11) / 2, w - 2,
                           BPI_CENTRE, done ? 1 : 0);
}

/* ---- on air ---------------------------------------------------------------------------------- */

static int64_t end_of(const bp_actual *a)
{
    return a->to != BP_NO_TIME ? a->to : a->from;
}

static void draw_slot(bpi_page *p, uint32_t i)
{
    const bp_after *a = after_of(p);
    const bp_air *air = &p->plan->air[i];
    int64_t most = air->slot, last = 0;
    for (uint32_t k = 0; k < air->beats.n; k++) {
        const bp_actual *b = &a->beat[air->beats.first + k];
        if (b->from != BP_NO_TIME && end_of(b) > last)
            last = end_of(b);
    }
    most = last > most ? last : most;
    scale s = {p->left + LABEL, p->right - p->left - LABEL, 0, most > 0 ? most : 1, 0, 0};
    bool ended = a->air[i].to != BP_NO_TIME;
    bpi_page_text(p, BPI_FONT_BODY,
                  bpi_page_f(p, "%s: hit planned %s, came %s; slot %s planned, %s%s", air->title,
                             moment(p, air->hit), moment(p, a->air[i].from),
                             span(p, air->slot, false),
                             ended ? "lasted " : "its end was not ticked",
                             ended ? bpi_page_f(p, "%s (%s)", span(p, last, false),
                                                span(p, last - air->slot, true))
                                   : ""),
                  p->left, p->y, p->right - p->left, BPI_LEFT);
    double y = p->y + ROW + 2;
    bpi_page_text(p, BPI_FONT_HEAD, "planned", p->left, y + 5, LABEL - 6, BPI_RIGHT);
    bpi_page_text(p, BPI_FONT_HEAD, "done", p->left, y + 29, LABEL - 6, BPI_RIGHT);
    for (uint32_t k = 0; k < air->beats.n; k++) {
        const bp_beat *b = &p->plan->beat[air->beats.first + k];
        const bp_actual *did = &a->beat[air->beats.first + k];
        if (!b->dropped)
            bar(p, &s, b->from - air->hit, b->from - air->hit + b->length, y, 22, false, b->id);
        if (did->from != BP_NO_TIME)
            bar(p, &s, did->from, end_of(did), y + 24, 22, true,
                span(p, bp_after_beat_over(a, air->beats.first + k), true));
    }
    p->y += SLOT;
}

static void draw_slots(bpi_page *p)
{
    const bp_after *a = after_of(p);
    uint32_t drawn = 0;
    head(p, "On air");
    for (uint32_t i = 0; i < p->plan->airs && drawn < MOST_AIRS; i++)
        if (a->air[i].from != BP_NO_TIME) {
            draw_slot(p, i);
            drawn++;
        }
    if (!drawn) {
        bpi_page_text(p, BPI_FONT_BODY, "No slot was run on the clock.", p->left, p->y,
                      p->right - p->left, BPI_LEFT);
        p->y += ROW;
    }
}

/* ---- in the kitchen -------------------------------------------------------------------------- */

static const bp_op *op_of(const bp_after_op *x)
{
    return &x->plan->op[x->op];
}

static bool works(const bp_after *a, uint32_t person)
{
    for (uint32_t o = 0; o < a->ops; o++)
        if (op_of(&a->op[o])->person == person)
            return true;
    return false;
}

static bool was_ticked(const bp_after *a)
{
    for (uint32_t o = 0; o < a->ops; o++)
        if (a->op[o].done.from != BP_NO_TIME)
            return true;
    return false;
}

/* The longest stretch in which nobody works, planned or done, such as a night: from the end of one
 * thing, beyond which only what begins later ends. */
static void find_gap(const bpi_page *p, scale *s)
{
    const bp_after *a = after_of(p);
    for (uint32_t o = 0; o < a->ops; o++) {
        const bp_op *op = op_of(&a->op[o]);
        int64_t ends[] = {op->to, end_of(&a->op[o].done)};
        for (int e = 0; e < 2 && op->person != BP_NO_INDEX; e++) {
            int64_t next = INT64_MAX, t = ends[e];
            for (uint32_t i = 0; i < a->ops && t != BP_NO_TIME; i++) {
                const bp_op *x = op_of(&a->op[i]);
                const bp_actual both[] = {{x->from, x->to}, a->op[i].done};
                for (int k = 0; k < 2 && x->person != BP_NO_INDEX; k++)
                    if (both[k].from != BP_NO_TIME && end_of(&both[k]) > t)
                        next = both[k].from < next ? both[k].from : next;
            }
            if (t != BP_NO_TIME && next != INT64_MAX && next - t > LONG &&
                next - t > s->on - s->gap) {
                s->gap = t;
                s->on = next;
            }
        }
    }
}

/* From the first to the last of what people do, planned or done. */
static scale kitchen_scale(const bpi_page *p)
{
    const bp_after *a = after_of(p);
    scale s = {p->left + LABEL, p->right - p->left - LABEL, INT64_MAX, INT64_MIN, 0, 0};
    for (uint32_t o = 0; o < a->ops; o++) {
        const bp_op *op = op_of(&a->op[o]);
        const bp_actual *done = &a->op[o].done;
        if (op->person == BP_NO_INDEX)
            continue;
        s.from = op->from < s.from ? op->from : s.from;
        s.to = op->to > s.to ? op->to : s.to;
        if (done->from != BP_NO_TIME && done->from < s.from)
            s.from = done->from;
        if (done->to != BP_NO_TIME && done->to > s.to)
            s.to = done->to;
    }
    find_gap(p, &s);
    return s;
}

/* A line at every so many minutes, none nearer than its label is wide. */
static void draw_clock(bpi_page *p, const scale *s, double top, double bottom)
{
    static const int64_t steps[] = {300, 600, 900, 1800, 3600, 7200, 14400, 43200, 86400};
    unsigned k = 0;
    while (k + 1 < sizeof steps / sizeof *steps && fine(s) * (double)steps[k] < 58)
        k++;
    int64_t first = s->from - ((s->from % steps[k]) + steps[k]) % steps[k];
    for (int64_t t = first; t <= s->to; t += steps[k]) {
        if (t < s->from || (t > s->gap && t < s->on))
            continue;
        bpi_page_line(p, at(s, t), top, at(s, t), bottom, 0.3);
        bpi_page_text(p, BPI_FONT_HEAD, moment(p, t), at(s, t) - 40, bottom + 1, 80, BPI_CENTRE);
    }
}

/* "A1" of one container, "A1+" of several. */
static const char *first_code(bpi_page *p, const bp_after_op *x)
{
    const bp_op *op = op_of(x);
    if (op->serves.n == 0)
        return NULL;
    return bpi_page_f(p, "%s%s", x->plan->container[x->plan->index[op->serves.first]].code,
                      op->serves.n > 1 ? "+" : "");
}

/* What a cook watches and what they do beside it share the height of a bar, in the order they began. */
static void shared_bar(bpi_page *p, const scale *s, uint32_t o, const bp_actual *times, double y,
                       double high, bool done)
{
    const bp_after *a = after_of(p);
    const bp_op *op = op_of(&a->op[o]);
    uint32_t all = 1, above = 0;
    for (uint32_t i = 0; i < a->ops; i++) {
        const bp_op *x = op_of(&a->op[i]);
        const bp_actual t = done ? a->op[i].done : (bp_actual){x->from, x->to};
        if (i == o || x->person != op->person || (!x->watch && !op->watch) ||
            t.from == BP_NO_TIME || t.from >= end_of(times) || end_of(&t) <= times->from)
            continue;
        all++;
        above += i < o;
    }
    bar(p, s, times->from, end_of(times), y + high * above / all,
        high / all - (all > 1 ? 3 * EDGE : 0), done, first_code(p, &a->op[o]));
}

static void draw_kitchen(bpi_page *p)
{
    const bp_after *a = after_of(p);
    uint32_t cooks = 0;
    head(p, "In the kitchen: planned above, done below");
    for (uint32_t i = 0; i < p->plan->persons; i++)
        cooks += works(a, i);
    if (!cooks || !was_ticked(a)) {
        bpi_page_text(p, BPI_FONT_BODY, "Nothing was ticked in the kitchen.", p->left, p->y,
                      p->right - p->left, BPI_LEFT);
        p->y += ROW;
        return;
    }
    double high = (p->bottom - TABLE - 2 * ROW - p->y) / cooks / 2 - 4;
    high = high > HIGHEST ? HIGHEST : high < LOWEST ? LOWEST : high;
    scale s = kitchen_scale(p);
    double top = p->y;
    double most = (p->bottom - 2 * ROW - p->y) / (2 * high + 8);
    cooks = cooks > most ? (uint32_t)most : cooks;
    draw_clock(p, &s, p->y - 2, p->y + cooks * (2 * high + 8) - 4);
    for (uint32_t i = 0; i < p->plan->persons && cooks > 0; i++) {
        if (!works(a, i))
            continue;
        cooks--;
        bpi_ink_text_cut(p, BPI_FONT_BOLD, p->plan->person[i].name, p->left, p->y + high - 8,
                         LABEL - 6, 16, 0);
        for (uint32_t o = 0; o < a->ops; o++) {
            const bp_op *op = op_of(&a->op[o]);
            const bp_actual planned = {op->from, op->to}, *done = &a->op[o].done;
            if (op->person != i)
                continue;
            shared_bar(p, &s, o, &planned, p->y, high, false);
            if (done->from != BP_NO_TIME)
                shared_bar(p, &s, o, done, p->y + high + 1, high, true);
        }
        p->y += 2 * high + 8;
    }
    if (s.on > s.gap)
        bpi_ink_tear(p, at(&s, s.gap) + 4, top, TEAR - 8, p->y - top - 4);
    p->y += ROW;
}

/* ---- what ran over --------------------------------------------------------------------------- */

/* The operation that ran over the most of those after `last` in that order; BP_NO_INDEX: none. */
static uint32_t next_over(const bp_after *a, uint32_t last)
{
    uint32_t best = BP_NO_INDEX;
    int64_t limit = last == BP_NO_INDEX ? INT64_MAX : bp_after_op_over(a, last);
    for (uint32_t o = 0; o < a->ops; o++) {
        int64_t over = bp_after_op_over(a, o);
        bool after = over < limit || (over == limit && o > last);
        if (over == BP_NO_TIME || over < 60 || (last != BP_NO_INDEX && !after))
            continue;
        if (best == BP_NO_INDEX || over > bp_after_op_over(a, best))
            best = o;
    }
    return best;
}

/* In one column, or in two where one is too short. */
static void draw_over(bpi_page *p)
{
    const bp_after *a = after_of(p);
    uint32_t o = next_over(a, BP_NO_INDEX), n = 0, row = 0;
    if (!was_ticked(a))
        return;
    head(p, o == BP_NO_INDEX ? "Nothing ran over by a minute or more"
                             : "What ran over by a minute or more, the most first");
    for (uint32_t k = o; k != BP_NO_INDEX; k = next_over(a, k))
        n++;
    double room = p->bottom - p->y, top = p->y;
    uint32_t rows = room > ROW ? (uint32_t)(room / ROW) : 1, columns = n > rows ? 2 : 1;
    double wide = (p->right - p->left - (columns - 1) * 20) / columns;
    for (; o != BP_NO_INDEX && row < rows * columns; o = next_over(a, o), row++) {
        const bp_plan *plan = a->op[o].plan;
        const bp_op *op = op_of(&a->op[o]);
        uint32_t column = row / rows;
        double x = p->left + column * (wide + 20), y = top + (row % rows) * ROW;
        const char *codes = bpi_page_keep(p, bpi_fact_codes(p->arena, plan, op->serves));
        const char *who =
            op->person == BP_NO_INDEX ? "" : bpi_page_f(p, ", %s", plan->person[op->person].name);
        bpi_page_text(p, BPI_FONT_BOLD, span(p, bp_after_op_over(a, o), true), x, y, 48, BPI_RIGHT);
        bpi_ink_text_cut(p, BPI_FONT_STAGE,
                         bpi_page_f(p, "%s, %s planned: %s%s%s%s", moment(p, op->from),
                                    span(p, op->to - op->from, false), codes, *codes ? " " : "",
                                    op->text, who),
                         x + 56, y + 1, wide - 56, 14, 0);
    }
}

/* ---- the page -------------------------------------------------------------------------------- */

static void draw(bpi_page *p)
{
    const bp_after *a = after_of(p);
    bpi_page_begin(p);
    if (a->rehearsal || a->other || a->unknown) {
        const char *rest = a->unknown ? bpi_page_f(p,
                                                   "%u events of its log name what the plan does "
                                                   "not have, and are left out.",
                                                   (unsigned)a->unknown)
                                      : "";
        bpi_page_text(p, BPI_FONT_BOLD,
                      bpi_page_f(p, "%s%s%s", a->rehearsal ? "A rehearsal. " : "",
                                 a->other ? "The log is of another version of the show. " : "",
                                 rest),
                      p->left, p->y, p->right - p->left, BPI_LEFT);
        p->y += ROW + 2;
    }
    draw_slots(p);
    p->y += SECTION;
    draw_kitchen(p);
    p->y += SECTION;
    draw_over(p);
}

bp_code bp_report_write(char **out, size_t *len, const bp_after *after, bp_errors *errs)
{
    const bpi_sheet sheet = {"The day", after->plan->letter, true, false, draw, after};
    bpi_text text = BPI_TEXT_EMPTY;
    *out = NULL;
    *len = 0;
    bp_code rc = bpi_paper_write(&text, after->plan, &sheet, errs);
    if (rc != BP_OK) {
        bpi_text_release(&text);
        return rc;
    }
    *out = text.s; /* taken over */
    *len = text.len;
    return BP_OK;
}
