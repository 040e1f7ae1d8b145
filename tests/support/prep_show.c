#include "support/prep_show.h"

#include <check.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"

char *prep_show_text(const char *kitchen, const char *recipes, const char *dishes,
                     const char *beats)
{
    static const char form[] =
        "{\"backpot\": 1, \"id\": \"t\", \"title\": \"T\", \"date\": \"2026-12-03\",\n"
        "\"zone\": \"UTC\", \"kitchen\": {%s},\n\"recipes\": [%s],\n\"segments\": [{\"id\": \"s\","
        "\"title\": \"S\", \"hit\": \"08:00\", \"slot\": \"3:00\", \"lead\": \"5 min\",\n"
        "\"dishes\": [%s],\n\"beats\": [%s]}]}\n";
    size_t room = sizeof form + strlen(kitchen) + strlen(recipes) + strlen(dishes) + strlen(beats);
    char *text = malloc(room);
    ck_assert_ptr_nonnull(text);
    snprintf(text, room, form, kitchen, recipes, dishes, beats);
    return text;
}

char *prep_show_file(const char *path)
{
    FILE *f = fopen(path, "rb");
    ck_assert_ptr_nonnull(f);
    char *text = calloc(1, 8192);
    ck_assert_ptr_nonnull(text);
    size_t n = fread(text, 1, 8191, f);
    ck_assert(n > 0 && n < 8191 && !ferror(f));
    fclose(f);
    return text;
}

char *prep_show_change(char *text, const char *from, const char *to)
{
    char *at = strstr(text, from), *out = malloc(strlen(text) + strlen(to) + 1);
    ck_assert_msg(at && out, "%s", from);
    sprintf(out, "%.*s%s%s", (int)(at - text), text, to, at + strlen(from));
    free(text);
    return out;
}

bp_code prep_show_plan(bp_plan **plan, bp_show **show, char *text, uint64_t work, bp_errors *errs)
{
    bp_plan_options options = {.work = work, .no_fixes = true, .days = 1};
    memset(errs, 0, sizeof *errs);
    ck_assert_msg(bp_show_read(show, text, strlen(text), "t.json", NULL, errs) == BP_OK, "%s",
                  errs->item[0].wrong);
    free(text);
    bp_code rc = bp_plan_make(plan, *show, &options, errs);
    ck_assert_msg(rc == BP_OK || rc == BP_ENOFIT, "%s", errs->item[0].wrong);
    return rc;
}

void prep_show_free(bp_plan **plan, bp_show **show)
{
    bp_plan_free(*plan);
    bp_show_free(*show);
    *plan = NULL;
    *show = NULL;
    ck_assert_int_eq(bpi_mem_alive(), 0);
}

void prep_show_refuse(const char *path, void (*change)(bp_show *show))
{
    static bp_errors errs;
    bp_plan_options options = {.work = 200000, .days = 10};
    long alive = bpi_mem_alive();
    bool fired = true;
    for (long k = 0; fired; k += 1 + k / 40) {
        bp_show *show = NULL;
        bp_plan *plan = NULL;
        memset(&errs, 0, sizeof errs);
        bpi_mem_fail_at(k, 0);
        bp_code rc = bp_show_open(&show, path, &errs);
        if (rc == BP_OK && change)
            change(show);
        if (rc == BP_OK)
            rc = bp_plan_make(&plan, show, &options, &errs);
        fired = bpi_mem_failed() != 0;
        bpi_mem_fail_at(-1, 0);
        ck_assert_msg(rc == (fired ? BP_ENOMEM : BP_OK), "request %ld: %d", k, (int)rc);
        ck_assert(fired == !plan);
        bp_plan_free(plan);
        bp_show_free(show);
        ck_assert_int_eq(bpi_mem_alive(), alive);
    }
}

bool prep_show_objects(const bp_plan *plan, const bp_show *show, const char *what, bp_errors *errs)
{
    *errs = (bp_errors){0};
    if (bp_plan_verify(plan, show, errs) != BP_EINTERNAL)
        return false;
    for (uint32_t i = 0; i < errs->n; i++)
        if (strstr(errs->item[i].wrong, what))
            return true;
    return false;
}

void prep_show_init(prep_show *p, char *text)
{
    static bp_errors errs;
    errs.n = errs.more = 0;
    *p = (prep_show){0};
    bp_code rc = bp_show_read(&p->show, text, strlen(text), "t.json", NULL, &errs);
    ck_assert_msg(rc == BP_OK, "%s", errs.item[0].wrong);
    free(text);
    p->arena = bpi_arena_new();
    ck_assert_ptr_nonnull(p->arena);
    rc = bpi_live_make(&p->live, p->arena, p->show, &errs);
    ck_assert_msg(rc == BP_OK, "%s", errs.n ? errs.item[0].wrong : "live");
    rc = bpi_prep_make(&p->prep, p->arena, p->show, p->live, NULL, &errs);
    ck_assert_msg(rc == BP_OK, "%s", errs.n ? errs.item[0].wrong : "prep");
}

void prep_show_release(prep_show *p)
{
    bpi_arena_free(p->arena);
    bp_show_free(p->show);
    *p = (prep_show){0};
}

static bool is_job(const prep_show *p, uint32_t j, bp_op_kind kind, const char *step,
                   const char *code)
{
    const bpi_job *job = &p->prep->job[j];
    if (job->kind != kind)
        return false;
    if (step && (job->step == BPI_NO_INDEX ||
                 strcmp(p->show->recipe[job->recipe].step[job->step].id, step) != 0))
        return false;
    for (uint32_t i = 0; code && i < job->serves; i++)
        if (strcmp(p->prep->box[p->prep->serve[job->serve0 + i]].code, code) == 0)
            return true;
    return !code;
}

uint32_t prep_show_count(const prep_show *p, bp_op_kind kind, const char *step, const char *code)
{
    uint32_t n = 0;
    for (uint32_t j = 0; j < p->prep->problem.activities; j++)
        n += is_job(p, j, kind, step, code);
    return n;
}

uint32_t prep_show_job(const prep_show *p, bp_op_kind kind, const char *step, const char *code)
{
    ck_assert_uint_eq(prep_show_count(p, kind, step, code), 1);
    uint32_t j = 0;
    while (!is_job(p, j, kind, step, code))
        j++;
    return j;
}

const bp_eng_option *prep_show_option(const prep_show *p, uint32_t j, uint32_t k)
{
    ck_assert_uint_lt(k, p->prep->problem.activity[j].options);
    return &p->prep->problem.option[p->prep->problem.activity[j].option0 + k];
}

int32_t prep_show_needs(const prep_show *p, const bp_eng_option *o, bpi_res_kind kind, uint32_t a)
{
    int32_t n = 0;
    for (uint32_t i = 0; i < o->needs; i++) {
        const bp_eng_need *need = &p->prep->problem.need[o->need0 + i];
        if (p->prep->res[need->res].kind == kind && p->prep->res[need->res].a == a)
            n += need->amount;
    }
    return n;
}

int32_t prep_show_lag(const prep_show *p, uint32_t from, bp_eng_end from_end, uint32_t to,
                      bp_eng_end to_end)
{
    int32_t least = INT32_MIN;
    for (uint32_t i = 0; i < p->prep->problem.lags; i++) {
        const bp_eng_lag *l = &p->prep->problem.lag[i];
        if (l->from == from && l->from_end == from_end && l->to == to && l->to_end == to_end &&
            l->if_act == BP_ENG_NONE && l->least > least)
            least = l->least;
    }
    return least;
}
