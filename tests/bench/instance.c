/* tests/bench/instance.c - readers for two published formats; the header says which.
 *
 * Owns     the reader while it runs.
 * May use  the public header.
 */
#include "bench/instance.h"

#include <ctype.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { MOST_ACTIVITIES = 20000, MOST_RESOURCES = 64 };

typedef struct reader {
    FILE *f;
    instance *to;
    bp_eng_activity *activity;
    bp_eng_option *option;
    bp_eng_need *need;
    bp_eng_lag *lag;
    bp_eng_resource *resource;
    size_t lag_room;
    uint32_t n, r; /* activities, resources */
} reader;

void instance_release(instance *i)
{
    for (size_t k = 0; k < sizeof i->rows / sizeof *i->rows; k++)
        free(i->rows[k]);
    *i = (instance){0};
}

static bool number(reader *r, long *out)
{
    int c;
    while ((c = fgetc(r->f)) != EOF && (isspace(c) || c == '[' || c == ']'))
        ;
    if (c == EOF)
        return false;
    ungetc(c, r->f);
    return fscanf(r->f, "%ld", out) == 1 && *out >= -BP_ENG_MOST_TIME && *out <= BP_ENG_MOST_TIME;
}

static bool skip_to(reader *r, const char *head, int lines_after)
{
    char line[4096];
    bool found = false;
    while (!found && fgets(line, sizeof line, r->f))
        found = strstr(line, head) != NULL;
    while (found && lines_after-- > 0)
        found = fgets(line, sizeof line, r->f) != NULL;
    return found;
}

static bool start_rows(reader *r)
{
    if (r->n < 2 || r->n > MOST_ACTIVITIES || r->r > MOST_RESOURCES)
        return false;
    void **rows = r->to->rows;
    rows[0] = r->activity = calloc(r->n, sizeof *r->activity);
    rows[1] = r->option = calloc(r->n, sizeof *r->option);
    rows[2] = r->need = calloc((size_t)r->n * r->r + 1, sizeof *r->need);
    rows[3] = r->resource = calloc((size_t)r->r + 1, sizeof *r->resource);
    return r->activity && r->option && r->need && r->resource;
}

static bool add_lag(reader *r, long from, bp_eng_end end, long to, long least)
{
    bp_eng_problem *p = &r->to->p;
    if (p->lags == r->lag_room) {
        size_t room = r->lag_room ? r->lag_room * 2 : 1024;
        bp_eng_lag *grown = realloc(r->lag, room * sizeof *grown);
        if (!grown)
            return false;
        r->to->rows[4] = r->lag = grown;
        r->lag_room = room;
    }
    if (from < 0 || to < 0 || from >= (long)r->n || to >= (long)r->n)
        return false;
    r->lag[p->lags++] = (bp_eng_lag){(uint32_t)from, (uint32_t)to, end, BP_ENG_START,
                                     (int32_t)least, BP_ENG_NONE,  0,   0};
    return true;
}

static bool add_activity(reader *r, uint32_t a)
{
    bp_eng_problem *p = &r->to->p;
    long number_of, mode, length, amount;
    if (!number(r, &number_of) || !number(r, &mode) || !number(r, &length) || length < 0)
        return false;
    r->activity[a] = (bp_eng_activity){a, 1};
    r->option[a] = (bp_eng_option){p->needs, 0, (int32_t)length, (int32_t)length, 0, -1};
    for (uint32_t k = 0; k < r->r; k++) {
        if (!number(r, &amount) || amount < 0)
            return false;
        if (amount == 0)
            continue;
        r->need[p->needs++] = (bp_eng_need){k, (int32_t)amount, -1};
        r->option[a].needs++;
    }
    return true;
}

static bool add_capacities(reader *r)
{
    long c;
    for (uint32_t k = 0; k < r->r; k++) {
        if (!number(r, &c) || c < 0)
            return false;
        r->resource[k].capacity = (int32_t)c;
    }
    return true;
}

static bool read_sm(reader *r)
{
    char line[4096];
    long v, modes, followers, to;
    while (fgets(line, sizeof line, r->f) && !strstr(line, "PRECEDENCE")) {
        const char *colon = strchr(line, ':');
        if (colon && strstr(line, "jobs"))
            r->n = (uint32_t)strtoul(colon + 1, NULL, 10);
        else if (colon && strstr(line, "renewable") && !strstr(line, "non"))
            r->r = (uint32_t)strtoul(colon + 1, NULL, 10);
    }
    if (!start_rows(r) || !fgets(line, sizeof line, r->f))
        return false;
    for (uint32_t a = 0; a < r->n; a++) {
        if (!number(r, &v) || !number(r, &modes) || !number(r, &followers))
            return false;
        while (followers-- > 0)
            if (!number(r, &to) || !add_lag(r, a, BP_ENG_END, to - 1, 0))
                return false;
    }
    if (!skip_to(r, "REQUESTS/DURATIONS", 2))
        return false;
    for (uint32_t a = 0; a < r->n; a++)
        if (!add_activity(r, a))
            return false;
    return skip_to(r, "RESOURCEAVAILABILITIES", 1) && add_capacities(r);
}

static bool read_sch(reader *r)
{
    long n, res, v, modes, followers, least, *to;
    if (!number(r, &n) || !number(r, &res) || !number(r, &v) || !number(r, &v) || n < 0 ||
        n > MOST_ACTIVITIES - 2 || res < 0 || res > MOST_RESOURCES)
        return false;
    r->n = (uint32_t)n + 2;
    r->r = (uint32_t)res;
    if (!start_rows(r) || !(to = calloc(r->n, sizeof *to)))
        return false;
    bool fine = true;
    for (uint32_t a = 0; a < r->n && fine; a++) {
        fine = number(r, &v) && number(r, &modes) && number(r, &followers) && followers >= 0 &&
               followers <= (long)r->n;
        for (long k = 0; k < followers && fine; k++)
            fine = number(r, &to[k]);
        for (long k = 0; k < followers && fine; k++)
            fine = number(r, &least) && add_lag(r, a, BP_ENG_START, to[k], least);
    }
    free(to);
    for (uint32_t a = 0; a < r->n && fine; a++)
        fine = add_activity(r, a);
    return fine && add_capacities(r);
}

/* No activity may end after the last one starts, and no schedule need be longer than this. */
static bool finish(reader *r)
{
    static const bp_eng_term makespan_of = {0, BP_ENG_STARTS, 0, 0, 0, 1};
    bp_eng_problem *p = &r->to->p;
    int64_t horizon = 0;
    for (uint32_t a = 0; a < r->n; a++) {
        int64_t most = r->option[a].least;
        for (uint32_t k = 0; k < p->lags; k++)
            if (r->lag[k].from == a && r->lag[k].from_end == BP_ENG_START && r->lag[k].least > most)
                most = r->lag[k].least;
        horizon += most;
    }
    for (uint32_t a = 0; a + 1 < r->n; a++)
        if (!add_lag(r, a, BP_ENG_END, (long)r->n - 1, 0))
            return false;
    bp_eng_term *t = calloc(1, sizeof *t);
    if (!t)
        return false;
    r->to->rows[5] = t;
    *t = makespan_of;
    t->a = r->n - 1;
    p->term = t;
    p->terms = p->levels = p->facts = 1;
    p->horizon = horizon > BP_ENG_MOST_TIME ? BP_ENG_MOST_TIME : (int32_t)horizon;
    p->activity = r->activity;
    p->activities = p->options = r->n;
    p->option = r->option;
    p->need = r->need;
    p->lag = r->lag;
    p->resource = r->resource;
    p->resources = r->r;
    return true;
}

static bool ends_in(const char *path, const char *end)
{
    size_t n = strlen(path), k = strlen(end);
    if (n < k)
        return false;
    for (size_t c = 0; c < k; c++)
        if (tolower((unsigned char)path[n - k + c]) != end[c])
            return false;
    return true;
}

bool instance_read(instance *out, const char *path, const char **why)
{
    *out = (instance){0};
    reader r = {.f = fopen(path, "r"), .to = out};
    *why = "cannot be opened";
    if (!r.f)
        return false;
    bool fine = false;
    *why = "is not a well-formed .sm or .sch file";
    if (ends_in(path, ".sm"))
        fine = read_sm(&r) && finish(&r);
    else if (ends_in(path, ".sch"))
        fine = read_sch(&r) && finish(&r);
    fclose(r.f);
    if (!fine)
        instance_release(out);
    return fine;
}
