/* src/prep/build.c - the problem of a show: axis, codes, and the parts in their order.
 *
 * Owns     nothing.
 * May use  prep/making and what it names.
 */
#include "prep/prep.h"

#include <stdio.h>
#include <string.h>

#include "base/limits.h"
#include "prep/making.h"

/* The axis reaches BPI_PREP_MARGIN beyond what the show file names, on either side. */
static void axis(bpi_making *m)
{
    int64_t first = INT64_MAX, last = INT64_MIN;
    for (uint32_t i = 0; i < m->live->airs; i++) {
        const bpi_air *a = &m->live->air[i];
        int64_t end = bpi_live_end(m->show, a);
        last = end > last ? end : last;
        first = a->at < first ? a->at : first;
        for (uint32_t j = 0; j < a->swaps; j++) {
            first = a->swap[j].set_by < first ? a->swap[j].set_by : first;
            last = a->swap[j].last > last ? a->swap[j].last : last;
        }
    }
    for (uint32_t i = 0; i < m->show->kitchen.cooks; i++) {
        const bpi_cook *c = &m->show->kitchen.cook[i];
        for (uint32_t j = 0; j < c->shifts; j++) {
            first = c->shift[j].call < first ? c->shift[j].call : first;
            last = c->shift[j].wrap > last ? c->shift[j].wrap : last;
        }
    }
    if (first > last)
        first = last = 0;
    m->zero = bpi_minutes_down(first) * INT64_C(60) - BPI_PREP_MARGIN;
    m->horizon = bpi_making_up(m, last + BPI_PREP_MARGIN);
}

static void letter(char out[4], uint32_t n)
{
    size_t len = 0;
    char back[4];
    for (n++; n && len < 3; n = (n - 1) / 26)
        back[len++] = (char)('A' + (n - 1) % 26);
    for (size_t i = 0; i < len; i++)
        out[i] = back[len - 1 - i];
    out[len] = '\0';
}

/* Codes: a letter for the dish, in order of first appearance; a number in order of need. */
static bp_code boxes(bpi_making *m, bp_errors *errs)
{
    uint32_t n = 0, dishes = 0;
    for (uint32_t i = 0; i < m->live->airs; i++)
        n += m->live->air[i].swaps;
    if (n > BPI_MAX_SWAPS)
        return bpi_error_f(errs, BP_ELIMIT, BPI_NOWHERE, "fewer beats, dishes or spares",
                           "the show needs %u containers, more than %d", (unsigned)n,
                           BPI_MAX_SWAPS);
    for (uint32_t i = 0; i < m->show->segments; i++)
        dishes += m->show->segment[i].dishes;
    m->box = BPI_TAKE(m->rows.a, n, bpi_box);
    uint32_t *count = BPI_TAKE(m->rows.a, dishes, uint32_t);
    uint32_t *order = BPI_TAKE(m->rows.a, dishes, uint32_t); /* dish -> letter, from 1 */
    if (!m->box || !count || !order)
        return bpi_error_no_memory(errs);
    uint32_t letters = 0;
    for (uint32_t i = 0; i < m->live->airs; i++) {
        const bpi_air *a = &m->live->air[i];
        uint32_t dish0 = 0;
        for (uint32_t j = 0; j < a->segment; j++)
            dish0 += m->show->segment[j].dishes;
        for (uint32_t j = 0; j < a->swaps; j++) {
            uint32_t d = dish0 + a->swap[j].dish;
            if (!order[d])
                order[d] = ++letters;
            char name[4];
            letter(name, order[d] - 1);
            bpi_box *box = &m->box[m->boxes++];
            *box = (bpi_box){.air = i,
                             .swap = j,
                             .dish = order[d] - 1,
                             .recipe = m->show->segment[a->segment].dish[a->swap[j].dish].recipe,
                             .carry = BPI_NO_INDEX,
                             .set = BPI_NO_INDEX};
            snprintf(box->code, sizeof box->code, "%s%u", name, (unsigned)(++count[d] & 0xfff));
        }
    }
    return BP_OK;
}

bp_code bpi_prep_make(bpi_prep **out, bpi_arena *a, const bpi_show *show, const bpi_live *live,
                      const bpi_prep_change *change, bp_errors *errs)
{
    *out = NULL;
    bpi_making m = {.show = show, .live = live, .rows = {.a = a}};
    if (change)
        m.change = *change;
    axis(&m);
    bp_code rc = boxes(&m, errs);
    if (rc != BP_OK)
        return rc;
    bpi_prep *p = BPI_TAKE(a, 1, bpi_prep);
    m.extra = BPI_TAKE(a, 3 * BPI_MAX_LIST + 4, bp_eng_need);
    if (!p || !m.extra)
        return bpi_error_no_memory(errs);
    bpi_rows_fact(&m.rows, BPI_FACT_NONE, 0, 0, 0, 0, BPI_NOWHERE);
    bpi_crew_make(&m);
    bpi_vessel_find(&m);
    if (!m.rows.failed)
        bpi_heat_states(&m);
    if (!m.rows.failed)
        bpi_warm_days(&m);
    const uint16_t *gone = m.rows.failed ? NULL : bpi_vessel_gone(&m);
    bpi_steps_make(&m);
    if (!m.rows.failed) {
        bpi_onset_make(&m);
        bpi_heat_make(&m);
        bpi_warm_make(&m);
        bpi_goal_make(&m);
    }
    if (m.rows.failed)
        return bpi_error_no_memory(errs);
    if (m.rows.activity.n > BPI_MAX_OPS)
        return bpi_error_f(errs, BP_ELIMIT, BPI_NOWHERE, "fewer containers or steps",
                           "the show needs %u prep operations, more than %d",
                           (unsigned)m.rows.activity.n, BPI_MAX_OPS);
    *p = (bpi_prep){.show = show,
                    .live = live,
                    .zero = m.zero,
                    .box = m.box,
                    .boxes = m.boxes,
                    .job = m.rows.job.v,
                    .serve = m.rows.serve.v,
                    .way = m.rows.way.v,
                    .res = m.rows.res.v,
                    .fact = m.rows.fact.v,
                    .gone = gone};
    bpi_rows_problem(&m.rows, &p->problem, m.horizon, BPI_GOALS + (m.change.late ? 1 : 0));
    *out = p;
    return BP_OK;
}
