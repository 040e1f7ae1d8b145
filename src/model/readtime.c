/* src/model/readtime.c - lengths, clock times and temperatures as members.
 *
 * Owns     the readers of lengths, clock times and temperatures that model/read.h names.
 * May use  base/, the text forms of model/.
 */
#include "model/read.h"

#include <inttypes.h>
#include <stdio.h>

#include "base/span.h"
#include "model/clocktext.h"
#include "model/duration.h"
#include "model/temperature.h"

static const char length_form[] = "write it like \"8 min\", \"20 s\" or \"1 h 10 min\"";

static void put_bound(bpi_text *out, int64_t seconds)
{
    if (seconds && seconds % 86400 == 0)
        bpi_text_f(out, "%" PRId64 " d", seconds / 86400);
    else
        bpi_span_words(out, seconds);
}

/* Is low <= seconds <= high? Otherwise say so. */
static bool in_bounds(bpi_reader *r, const bpi_node *v, const bpi_member *m, int64_t seconds)
{
    if (seconds >= m->low && seconds <= m->high)
        return true;
    bpi_text right = BPI_TEXT_EMPTY;
    bpi_text_put(&right, "write a length from ");
    put_bound(&right, m->low);
    bpi_text_put(&right, " to ");
    put_bound(&right, m->high);
    if (right.failed)
        bpi_read_no_memory(r);
    else
        bpi_read_wrong(r, BP_ERANGE, v->at, right.s, "\"%s\" cannot be %s", m->name,
                       v->kind == BPI_STRING ? v->text : "so long or short");
    bpi_text_release(&right);
    return false;
}

typedef bool span_reader(int64_t *out, const char *text, size_t len, bpi_fault *f);

static void read_seconds(bpi_reader *r, void *into, const bpi_node *v, const bpi_member *m,
                         span_reader *read)
{
    bpi_fault f = {0, "", ""};
    int64_t seconds = 0;
    if (!bpi_read_is_text(r, v, m->name, length_form))
        return;
    if (!read(&seconds, v->text, v->len, &f))
        bpi_read_fault(r, v, &f);
    else if (in_bounds(r, v, m, seconds))
        *(int64_t *)(void *)((char *)into + m->field) = seconds;
}

void bpi_read_span_member(bpi_reader *r, void *into, const bpi_node *v, const bpi_member *m)
{
    read_seconds(r, into, v, m, bpi_span_read);
}

void bpi_read_slot_member(bpi_reader *r, void *into, const bpi_node *v, const bpi_member *m)
{
    read_seconds(r, into, v, m, bpi_slot_read);
}

static void read_three(bpi_reader *r, bpi_length *out, const bpi_node *v, const bpi_member *m)
{
    typedef struct three {
        int64_t low, likely, high;
    } three;
    const bpi_member members[] = {
        {"low", bpi_read_span_member, offsetof(three, low), "\"low\": \"6 min\"", m->low, m->high,
         0, NULL},
        {"likely", bpi_read_span_member, offsetof(three, likely), "\"likely\": \"8 min\"", m->low,
         m->high, 0, NULL},
        {"high", bpi_read_span_member, offsetof(three, high), "\"high\": \"14 min\"", m->low,
         m->high, 0, NULL},
    };
    three t = {-1, -1, -1};
    bpi_read_object(r, &t, v, "an uncertain length", BPI_MEMBERS(members));
    if (t.low < 0 || t.likely < 0 || t.high < 0)
        return;
    if (t.low > t.likely || t.likely > t.high) {
        bpi_read_wrong(r, BP_EVALUE, v->at, "write \"low\" <= \"likely\" <= \"high\"",
                       "the three lengths are not in order");
        return;
    }
    *out = (bpi_length){t.low, t.likely, t.high, false, true, v->at};
}

void bpi_read_length(bpi_reader *r, void *into, const bpi_node *v, const bpi_member *m)
{
    bpi_length *out = (bpi_length *)(void *)((char *)into + m->field);
    bpi_fault f = {0, "", ""};
    int64_t least = 0, most = 0;
    out->where = v->at;
    if (v->kind == BPI_OBJECT) {
        read_three(r, out, v, m);
        return;
    }
    if (!bpi_read_is_text(r, v, m->name, length_form))
        return;
    if (!bpi_window_read(&least, &most, v->text, v->len, &f)) {
        bpi_read_fault(r, v, &f);
        return;
    }
    if (in_bounds(r, v, m, least) && in_bounds(r, v, m, most))
        *out = (bpi_length){least, least, most, least < most, false, v->at};
}

int64_t bpi_read_moment(bpi_reader *r, const bpi_node *v, const char *name)
{
    bpi_fault f = {0, "", ""};
    bpi_clocktext t;
    int64_t at = BPI_NO_TIME;
    if (!bpi_read_is_text(r, v, name, "write it like \"08:24\""))
        return BPI_NO_TIME;
    if (!bpi_clocktext_read(&t, v->text, v->len, &f) ||
        (r->clock_set && !bpi_clocktext_place(&at, &r->show->clock, &t, &f)))
        bpi_read_fault(r, v, &f);
    return at;
}

void bpi_read_clock(bpi_reader *r, void *into, const bpi_node *v, const bpi_member *m)
{
    *(int64_t *)(void *)((char *)into + m->field) = bpi_read_moment(r, v, m->name);
}

void bpi_read_temperature(bpi_reader *r, void *into, const bpi_node *v, const bpi_member *m)
{
    bpi_fault f = {0, "", ""};
    int32_t mC = 0;
    char right[80];
    if (!bpi_read_is_text(r, v, m->name, "write it like \"200 C\" or \"400 F\""))
        return;
    snprintf(right, sizeof right, "write a temperature from %" PRId64 " C to %" PRId64 " C",
             m->low / 1000, m->high / 1000);
    if (!bpi_temperature_read(&mC, v->text, v->len, &f))
        bpi_read_fault(r, v, &f);
    else if (mC < m->low || mC > m->high)
        bpi_read_wrong(r, BP_ERANGE, v->at, right, "\"%s\" cannot be %s", m->name, v->text);
    else
        *(int32_t *)(void *)((char *)into + m->field) = mC;
}

void bpi_read_rate(bpi_reader *r, void *into, const bpi_node *v, const bpi_member *m)
{
    bpi_fault f = {0, "", ""};
    int32_t mC = 0;
    if (!bpi_read_is_text(r, v, m->name, "write it like \"12 C/min\" or \"20 F/min\""))
        return;
    if (!bpi_rate_read(&mC, v->text, v->len, &f))
        bpi_read_fault(r, v, &f);
    else if (mC < m->low || mC > m->high)
        bpi_read_wrong(r, BP_ERANGE, v->at, "write a rate from 0.5 C/min to 200 C/min",
                       "\"%s\" cannot be %s", m->name, v->text);
    else
        *(int32_t *)(void *)((char *)into + m->field) = mC;
}
