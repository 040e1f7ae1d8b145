#include "day/mishap.h"

#include <string.h>

#include "model/clocktext.h"

#define WORDS 6

static const char *const lost_words[] = {"burnt", "burned", "spilt",   "spilled", "dropped",
                                         "lost",  "spoilt", "spoiled", "broken",  NULL};
static const char *const dead_words[] = {"dead", "broken", "out", "cold", NULL};
static const char *const away_words[] = {"away", "late", "out", "hurt", "sick", NULL};

typedef struct words {
    const char *at[WORDS];
    size_t len[WORDS];
    uint32_t n; /* WORDS + 1: too many */
} words;

/* "-1d 16:00" is one. */
static size_t word_length(const char *line)
{
    size_t len = strcspn(line, " \t"), blank = strspn(line + len, " \t");
    bool day = (*line == '-' || *line == '+') && len > 2 && line[len - 1] == 'd';
    return day && line[len + blank] ? len + blank + strcspn(line + len + blank, " \t") : len;
}

static words split(const char *line)
{
    words w = {.n = 0};
    while (*line) {
        size_t len = word_length(line);
        if (len && w.n < WORDS) {
            w.at[w.n] = line;
            w.len[w.n] = len;
        }
        w.n += len > 0;
        line += len;
        line += strspn(line, " \t");
    }
    return w;
}

static bool is(const words *w, uint32_t i, const char *text)
{
    return i < w->n && strlen(text) == w->len[i] && strncmp(w->at[i], text, w->len[i]) == 0;
}

static bool among(const words *w, uint32_t i, const char *const *list)
{
    for (; *list; list++)
        if (is(w, i, *list))
            return true;
    return false;
}

static bp_code moment(int64_t *out, const bpi_prep *p, const char *s, size_t len, bp_errors *errs)
{
    bpi_clocktext t;
    bpi_fault fault = {0};
    if (bpi_clocktext_read(&t, s, len, &fault) &&
        bpi_clocktext_place(out, &p->show->clock, &t, &fault))
        return BP_OK;
    return bpi_error_f(errs, BP_EVALUE, BPI_NOWHERE, "write a clock time such as 07:10",
                       "\"%.*s\" is no time of the show day", len < 40 ? (int)len : 40, s);
}

static bp_code no_name(bp_errors *errs, const words *w, uint32_t i, const char *what)
{
    return bpi_error_f(errs, BP_EVALUE, BPI_NOWHERE,
                       "the sheets have the codes of containers, the show file all other ids",
                       "there is no %s \"%.*s\"", what, w->len[i] < 60 ? (int)w->len[i] : 60,
                       w->at[i]);
}

static uint32_t box_of(const bpi_prep *p, const words *w, uint32_t i)
{
    for (uint32_t b = 0; b < p->boxes; b++)
        if (is(w, i, p->box[b].code))
            return b;
    return BPI_NO_INDEX;
}

static uint32_t cook_of(const bpi_prep *p, const words *w, uint32_t i)
{
    for (uint32_t c = 0; c < p->show->kitchen.cooks; c++)
        if (is(w, i, p->show->kitchen.cook[c].id) || is(w, i, p->show->kitchen.cook[c].name))
            return c;
    return BPI_NO_INDEX;
}

static bp_code until(bpi_mishap *out, const bpi_prep *p, const words *w, uint32_t i,
                     bp_errors *errs)
{
    bp_code rc = moment(&out->until, p, w->at[i], w->len[i], errs);
    if (rc == BP_OK && out->until <= out->at)
        rc = bpi_error_add(errs, BP_EVALUE, BPI_NOWHERE, "it ends before it is noticed", "");
    return rc;
}

static bp_code read_oven(bpi_mishap *out, const bpi_prep *p, const words *w, bp_errors *errs)
{
    out->kind = BPI_MISHAP_DEAD;
    for (uint32_t o = 0; o < p->show->kitchen.ovens; o++)
        if (is(w, 2, p->show->kitchen.oven[o].id)) {
            out->number = o;
            return BP_OK;
        }
    return no_name(errs, w, 2, "oven");
}

static bp_code read_longer(bpi_mishap *out, const bpi_prep *p, const words *w, bp_errors *errs)
{
    const bpi_recipe *r = &p->show->recipe[p->box[out->number].recipe];
    out->kind = BPI_MISHAP_LONGER;
    for (out->step = 0; out->step < r->steps; out->step++)
        if (is(w, 2, r->step[out->step].id))
            return until(out, p, w, 4, errs);
    return no_name(errs, w, 2, "step");
}

bp_code bpi_mishap_read(bpi_mishap *out, const bpi_prep *p, const char *line, bp_errors *errs)
{
    words w = split(line);
    *out = (bpi_mishap){.number = BPI_NO_INDEX, .step = BPI_NO_INDEX};
    if (w.n > 0) {
        bp_code rc = moment(&out->at, p, w.at[0], w.len[0], errs);
        if (rc != BP_OK)
            return rc;
    }
    if (w.n == 4 && is(&w, 1, "oven") && among(&w, 3, dead_words))
        return read_oven(out, p, &w, errs);
    if (w.n == 3 && is(&w, 1, "burner") && among(&w, 2, dead_words)) {
        out->kind = BPI_MISHAP_BURNER;
        return BP_OK;
    }
    if (w.n == 2 && is(&w, 1, "behind")) {
        out->kind = BPI_MISHAP_BEHIND;
        return BP_OK;
    }
    if (w.n == 5 && among(&w, 2, away_words) && is(&w, 3, "until")) {
        out->kind = BPI_MISHAP_AWAY;
        out->number = cook_of(p, &w, 1);
        return out->number == BPI_NO_INDEX ? no_name(errs, &w, 1, "cook")
                                           : until(out, p, &w, 4, errs);
    }
    bool lost = w.n == 3 && among(&w, 2, lost_words);
    if (lost || (w.n == 5 && is(&w, 3, "until"))) {
        out->number = box_of(p, &w, 1);
        if (out->number == BPI_NO_INDEX)
            return no_name(errs, &w, 1, "container");
        return lost ? BP_OK : read_longer(out, p, &w, errs);
    }
    return bpi_error_f(errs, BP_EVALUE, BPI_NOWHERE,
                       "write \"07:10 B2 burnt\", \"07:10 oven ID dead\", \"07:10 burner dead\", "
                       "\"07:10 COOK away until 07:40\", \"07:10 B2 STEP until 07:25\" or "
                       "\"07:10 behind\"",
                       "\"%.60s\" is not understood", line);
}
