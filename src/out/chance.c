#include "out/chance.h"

#include <inttypes.h>

#include "base/span.h"
#include "out/facts.h"
#include "out/ink.h"
#include "out/page.h"
#include "out/paper.h"

#define ROW     22.0
#define PICTURE 170.0 /* height of the bars      */
#define BAR     130.0 /* a chance of 100 %       */
#define PERCENT 64.0
#define IN_TIME 0.82 /* grey of days in time; black are the late ones */
#define SECTION 14.0

enum { MOST_COLUMNS = 48, MIDDLE = BP_CHANCE_BINS / 2 };

static const char *chance_text(bpi_page *p, uint32_t n, uint32_t days)
{
    char text[BP_CLOCK_ROOM];
    return bpi_page_f(p, "%s", bpi_fact_chance(text, n, days));
}

static const char *clock_text(bpi_page *p, int64_t t)
{
    char clock[BP_CLOCK_ROOM];
    return t == BP_NO_TIME ? "-" : bpi_page_f(p, "%s", bp_plan_clock(clock, p->plan, t));
}

static const char *span_text(bpi_page *p, int64_t seconds)
{
    bpi_text t = BPI_TEXT_EMPTY;
    bpi_span_words(&t, seconds);
    const char *kept = bpi_page_f(p, "%s", t.failed ? "" : t.s);
    p->no_memory |= t.failed;
    bpi_text_release(&t);
    return kept;
}

/* In time from the left, late in black on the right: told apart without colour. */
static void draw_share(bpi_page *p, uint32_t n, uint32_t days, double x, double y)
{
    double in_time = days ? BAR * n / days : 0, h = ROW - 8;
    bpi_page_fill(p, x, y + 3, in_time, h, IN_TIME);
    bpi_page_fill(p, x + in_time, y + 3, BAR - in_time, h, 0);
    bpi_page_frame(p, x, y + 3, BAR, h, 0.8);
}

static void head(bpi_page *p, double room, const char *text)
{
    bpi_page_need(p, room + ROW);
    if (p->y > p->top)
        p->y += SECTION;
    bpi_page_text(p, BPI_FONT_STEP, text, p->left, p->y, p->right - p->left, BPI_LEFT);
    p->y += ROW;
}

/* ---- the days ---------------------------------------------------------------------------- */

/* Column number c of `minutes` takes days late by more than c - 1 and up to c columns; those up to
 * column 0 are in time. */
typedef struct columns {
    int first, last; /* that hold a day */
    int64_t minutes; /* of a column     */
    uint32_t most;   /* days in the fullest */
    const bp_chance *c;
} columns;

static int column_of(const columns *k, int bin)
{
    int64_t late = (bin - MIDDLE) * k->c->width, wide = k->minutes * 60;
    return (int)(late > 0 ? (late + wide - 1) / wide : late / wide);
}

static uint32_t days_in(const columns *k, int column)
{
    uint32_t n = 0;
    for (int i = 0; i < BP_CHANCE_BINS; i++)
        n += column_of(k, i) == column ? k->c->bin[i] : 0;
    return n;
}

/* The narrowest columns that fit; the set-by and something on either side of it are always shown. */
static columns measure(const bp_chance *c)
{
    static const int64_t minutes[] = {1, 2, 5, 10, 30, 60, 240};
    int low = MIDDLE, high = MIDDLE + 1;
    for (int i = 0; i < BP_CHANCE_BINS; i++)
        if (c->bin[i]) {
            low = i < low ? i : low;
            high = i > high ? i : high;
        }
    columns k = {.c = c};
    for (unsigned i = 0; i < sizeof minutes / sizeof *minutes; i++) {
        k.minutes = minutes[i];
        k.first = column_of(&k, low) - 1;
        k.last = column_of(&k, high);
        if (k.last - k.first < MOST_COLUMNS)
            break;
    }
    for (int i = k.first; i <= k.last; i++) {
        uint32_t n = days_in(&k, i);
        k.most = n > k.most ? n : k.most;
    }
    return k;
}

/* A label at every so many borders, never nearer than it is wide. */
static void draw_axis(bpi_page *p, const columns *k, double wide, double y)
{
    int step = 1;
    while (step * wide < 44)
        step = step == 1 ? 2 : step == 2 ? 5 : step * 2;
    for (int i = k->first - 1; i <= k->last; i++) {
        double x = p->left + (i - k->first + 1) * wide;
        if (i % step)
            continue;
        bpi_page_line(p, x, y, x, y + 4, 0.8);
        const char *text = i == 0 ? "set-by" : bpi_page_f(p, "%+d", (int)(i * k->minutes));
        bpi_page_text(p, BPI_FONT_HEAD, text, x - 30, y + 5, 60, BPI_CENTRE);
    }
}

static void draw_days(bpi_page *p)
{
    columns k = measure(p->plan->chance);
    int n = k.last - k.first + 1;
    double wide = (p->right - p->left) / n;
    double set_by = p->left + (1 - k.first) * wide;
    head(p, PICTURE + 4 * ROW, "The days: how early or late the latest swap-out came");
    double base = p->y + PICTURE;
    for (int i = k.first; i <= k.last; i++) {
        uint32_t days = days_in(&k, i);
        double high = k.most ? (PICTURE - 16) * days / k.most : 0;
        double x = p->left + (i - k.first) * wide;
        if (days == 0)
            continue;
        bpi_page_fill(p, x + 1, base - high, wide - 2, high, i <= 0 ? IN_TIME : 0);
        bpi_page_frame(p, x + 1, base - high, wide - 2, high, 0.8);
        double middle = x + wide / 2;
        if (middle > set_by - 24 && middle < set_by + 24) /* clear of the line of the set-by */
            middle = middle < set_by ? set_by - 24 : set_by + 24;
        if (days == k.most)
            bpi_page_text(p, BPI_FONT_HEAD, chance_text(p, days, k.c->days), middle - 40,
                          base - high - 14, 80, BPI_CENTRE);
    }
    bpi_page_line(p, p->left, base, p->right, base, 1.2);
    bpi_ink_dash(p, set_by, p->y, set_by, base, 1.6);
    draw_axis(p, &k, wide, base);
    p->y = base + ROW;
    bpi_page_para(p, BPI_FONT_BODY,
                  bpi_page_f(p,
                             "Minutes before (-) and after (+) the set-by, %d min a column. Light: "
                             "in time. Black: late.",
                             (int)k.minutes));
}

/* ---- tables ------------------------------------------------------------------------------ */

static void head_of_containers(bpi_page *p, const void *unused)
{
    (void)unused;
    double x = p->right - BAR - PERCENT;
    bpi_page_text(p, BPI_FONT_HEAD, "swap-out", p->left, p->y, 200, BPI_LEFT);
    bpi_page_text(p, BPI_FONT_HEAD, "set-by", x - 150, p->y, 60, BPI_RIGHT);
    bpi_page_text(p, BPI_FONT_HEAD, "9 in 10 by", x - 84, p->y, 74, BPI_RIGHT);
    bpi_page_text(p, BPI_FONT_HEAD, "in time", x, p->y, BAR, BPI_LEFT);
    p->y += 15;
}

static void draw_containers(bpi_page *p)
{
    const bp_plan *plan = p->plan;
    const bp_chance *c = plan->chance;
    head(p, 3 * ROW, "Each swap-out");
    head_of_containers(p, NULL);
    p->again = head_of_containers;
    for (uint32_t i = 0; i < plan->containers; i++) {
        const bp_container *box = &plan->container[i];
        bpi_page_need(p, ROW);
        double x = p->right - BAR - PERCENT;
        bpi_page_text(p, BPI_FONT_CODE, box->code, p->left, p->y, 48, BPI_LEFT);
        bpi_ink_text_cut(
            p, BPI_FONT_STAGE,
            bpi_page_f(p, "%s, %s", plan->dish[box->dish].title, bp_stage_name(box->stage)),
            p->left + 50, p->y + 3, x - 150 - p->left - 50, 14, 0);
        bpi_page_text(p, BPI_FONT_BODY, clock_text(p, box->set_by), x - 150, p->y + 3, 60,
                      BPI_RIGHT);
        bpi_page_text(p, BPI_FONT_BODY, clock_text(p, c->odds[i].nine_tenths), x - 84, p->y + 3, 74,
                      BPI_RIGHT);
        draw_share(p, c->odds[i].on_time, c->days, x, p->y);
        bpi_page_text(p, BPI_FONT_BOLD, chance_text(p, c->odds[i].on_time, c->days),
                      p->right - PERCENT, p->y + 3, PERCENT, BPI_RIGHT);
        p->y += ROW;
    }
    p->again = NULL;
}

static void draw_drivers(bpi_page *p)
{
    const bp_plan *plan = p->plan;
    const bp_chance *c = plan->chance;
    uint32_t late = c->days - c->on_time;
    head(p, 3 * ROW, "What made it late");
    bpi_page_para(p, BPI_FONT_BODY,
                  "Black: of the late days, those on which the step ran over its planned time and "
                  "what was late had waited for it.");
    p->y += 4;
    for (uint32_t i = 0; i < c->drivers; i++) {
        const bp_op *op = &plan->op[c->driver[i].op];
        bpi_page_need(p, ROW);
        const char *who =
            op->person == BP_NO_INDEX ? "" : bpi_page_f(p, ", %s", plan->person[op->person].name);
        bpi_ink_text_cut(p, BPI_FONT_STAGE,
                         bpi_page_f(p, "%s  %s %s%s", clock_text(p, op->from),
                                    bpi_page_keep(p, bpi_fact_codes(p->arena, plan, op->serves)),
                                    op->text, who),
                         p->left, p->y + 3, p->right - BAR - PERCENT - p->left - 10, 14, 0);
        draw_share(p, late - c->driver[i].late, late, p->right - BAR - PERCENT, p->y);
        bpi_page_text(p, BPI_FONT_BOLD, chance_text(p, c->driver[i].late, late), p->right - PERCENT,
                      p->y + 3, PERCENT, BPI_RIGHT);
        p->y += ROW;
    }
}

static void draw_earlies(bpi_page *p)
{
    const bp_plan *plan = p->plan;
    const bp_chance *c = plan->chance;
    head(p, (c->earlies + 1) * ROW, "Called, and all started, earlier");
    for (uint32_t i = 0; i < c->earlies; i++) {
        const bp_early *e = &c->early[i];
        const char *text = e->by ? span_text(p, e->by) : "as planned";
        if (e->stale)
            text = bpi_page_f(p, "%s; %u past %s best", text, (unsigned)e->stale,
                              e->stale == 1 ? "its" : "their");
        if (e->person != BP_NO_INDEX)
            text = bpi_page_f(p, "%s; too early for %s", text, plan->person[e->person].name);
        bpi_ink_text_cut(p, BPI_FONT_STAGE, text, p->left, p->y + 3,
                         p->right - BAR - PERCENT - p->left - 10, 14, 0);
        draw_share(p, e->on_time, c->days, p->right - BAR - PERCENT, p->y);
        bpi_page_text(p, BPI_FONT_BOLD, chance_text(p, e->on_time, c->days), p->right - PERCENT,
                      p->y + 3, PERCENT, BPI_RIGHT);
        p->y += ROW;
    }
}

static void draw_buffers(bpi_page *p)
{
    const bp_chance *c = p->plan->chance;
    bool holds = (uint64_t)c->on_time * 100 >= (uint64_t)c->asked * c->days;
    bpi_page_para(p, BPI_FONT_BOLD,
                  bpi_page_f(p, "%u %% was asked for: %s.", (unsigned)c->asked,
                             holds ? "it holds" : "this is the best that was reached"));
    if (c->buffers)
        bpi_page_para(p, BPI_FONT_BODY,
                      bpi_page_f(p, "Without the longer times below: %s.",
                                 chance_text(p, c->without, c->days)));
    for (uint32_t i = 0; i < c->buffers; i++)
        bpi_page_para(p, BPI_FONT_BODY,
                      bpi_page_f(p, "%s more than likely for: %s",
                                 span_text(p, c->buffer[i].seconds), c->buffer[i].text));
}

/* ---- the sheet --------------------------------------------------------------------------- */

static void draw_whole(bpi_page *p)
{
    const bp_chance *c = p->plan->chance;
    double wide = p->right - p->left;
    bpi_font huge = {40, true, false};
    const char *text = chance_text(p, c->on_time, c->days);
    double room = bpi_type_width(p->type, huge, text) + 14;
    bpi_page_text(p, huge, text, p->left, p->y, room, BPI_LEFT);
    const char *what =
        bpi_page_f(p, "of %" PRIu32 " days played, everything was on set in time", c->days);
    bpi_page_text(p, BPI_FONT_STEP, what, p->left + room, p->y + 10, wide - room, BPI_LEFT);
    p->y += bpi_type_height(p->type, huge, text, -1);
}

static void draw_small_print(bpi_page *p)
{
    const bp_chance *c = p->plan->chance;
    p->y += SECTION;
    bpi_page_para(p, BPI_FONT_STAGE,
                  bpi_page_f(p,
                             "%" PRIu32 " operations have low, likely and high times and took "
                             "another length each day (beta distribution; luck of one cook or one "
                             "oven shared, correlation %u.%u, an assumption); all else went as "
                             "planned. Nobody starts before the planned start, everybody keeps the "
                             "planned order. Seed %" PRIu64 ".",
                             c->uncertain, (unsigned)(c->share / 1000),
                             (unsigned)(c->share % 1000 / 100), c->seed));
}

static void draw(bpi_page *p)
{
    bpi_page_begin(p);
    if (!p->plan->chance) {
        bpi_page_para(
            p, BPI_FONT_STEP,
            p->plan->verdict == BP_PLANNED
                ? "Not worked out: no step of the show has low, likely and high times, as "
                  "{\"low\": \"8 min\", \"likely\": \"10 min\", \"high\": \"15 min\"}."
                : "Not worked out: this plan is late before anything runs over.");
        return;
    }
    draw_whole(p);
    if (p->plan->chance->asked)
        draw_buffers(p);
    draw_days(p);
    draw_containers(p);
    draw_earlies(p);
    if (p->plan->chance->drivers)
        draw_drivers(p);
    draw_small_print(p);
}

bp_code bpi_chance_write(bpi_text *out, const bp_plan *plan, bool letter, bp_errors *errs)
{
    const bpi_sheet sheet = {"How likely it holds", letter, false, false, draw, NULL};
    return bpi_paper_write(out, plan, &sheet, errs);
}
