#include "backpot/output.h"

#include <check.h>
#include <dirent.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/file.h"
#include "base/memory.h"
#include "base/sys.h"
#include "base/text.h"
#include "base/zone.h"

#include "support/plan_sample.h"

/* Without the papers: those have tests of their own, and need fonts. */
#define NO_PAPER                                                                                   \
    (1u << BP_OUT_CUE_SHEET | 1u << BP_OUT_PREP_SHEET | 1u << BP_OUT_TIMELINE_PDF |                \
     1u << BP_OUT_TIMELINE_SVG | 1u << BP_OUT_LABELS | 1u << BP_OUT_CHANCE |                       \
     1u << BP_OUT_TRAY_MAP | 1u << BP_OUT_PULL_SHEET | 1u << BP_OUT_PACK_SHEET |                   \
     1u << BP_OUT_STRIKE_SHEET)

static plan_sample sample;
static bp_errors errs;
static char folder[] = "/tmp/backpot-outputs-XXXXXX";

static void set_up(void)
{
    plan_sample_fill_planned(&sample);
    errs.n = errs.more = 0;
    ck_assert_ptr_nonnull(mkdtemp(folder));
}

static void tear_down(void)
{
    DIR *d = opendir(folder);
    ck_assert_ptr_nonnull(d);
    for (struct dirent *e; (e = readdir(d)) != NULL;) {
        char path[512];
        snprintf(path, sizeof path, "%s/%s", folder, e->d_name);
        if (e->d_name[0] != '.' && unlink(path) != 0)
            rmdir(path);
    }
    closedir(d);
    ck_assert_int_eq(rmdir(folder), 0);
    memcpy(folder + strlen(folder) - 6, "XXXXXX", 6);
    bpi_zone_release_all();
    ck_assert_int_eq(bpi_mem_alive(), 0);
}

static bp_files *make(const char *earlier)
{
    bp_output_options options = {.leave_out = NO_PAPER, .folder = earlier};
    bp_files *files = NULL;
    bp_code rc = bp_outputs_write(&files, &sample.plan, &options, &errs);
    ck_assert_msg(rc == BP_OK, "%s: %s", errs.item[0].file, errs.item[0].wrong);
    return files;
}

static const bp_file *file_of(const bp_files *files, const char *name)
{
    for (uint32_t i = 0; i < files->n; i++)
        if (strcmp(files->file[i].name, name) == 0)
            return &files->file[i];
    return NULL;
}

static void write_file(const char *name, const char *bytes)
{
    char path[512];
    snprintf(path, sizeof path, "%s/%s", folder, name);
    ck_assert_int_eq(bpi_file_write(path, bytes, strlen(bytes), &errs), BP_OK);
}

static void holds(const char *name, const char *bytes, size_t len)
{
    char path[512];
    bpi_text t = BPI_TEXT_EMPTY;
    snprintf(path, sizeof path, "%s/%s", folder, name);
    ck_assert_int_eq(bpi_file_read(&t, path, 1 << 24, &errs), BP_OK);
    ck_assert_uint_eq(t.len, len);
    ck_assert(memcmp(t.s, bytes, len) == 0);
    bpi_text_release(&t);
}

START_TEST(each_wanted_file_is_made_and_saved)
{
    static const char *const names[] = {"tray-map.txt",   "strike-list.txt", "pack-list.txt",
                                        "pack-list.csv",  "pull-list.txt",   "pull-list.csv",
                                        "prep.ics",       "prep-ines.ics",   "prep-rui.ics",
                                        "prep-marta.ics", "plan.json"};
    bp_files *files = make(NULL);
    ck_assert_uint_eq(files->n, sizeof names / sizeof *names);
    ck_assert_int_eq(bp_outputs_save(files, folder, &errs), BP_OK);
    for (uint32_t i = 0; i < files->n; i++) {
        ck_assert_str_eq(files->file[i].name, names[i]);
        ck_assert_uint_gt(files->file[i].len, 0);
        holds(names[i], files->file[i].bytes, files->file[i].len);
    }
    bp_files_free(files);
}
END_TEST

START_TEST(a_second_run_over_the_same_plan_changes_no_byte)
{
    bp_files *first = make(folder);
    ck_assert_int_eq(bp_outputs_save(first, folder, &errs), BP_OK);
    bp_files *second = make(folder);
    ck_assert_uint_eq(first->n, second->n);
    for (uint32_t i = 0; i < first->n; i++) {
        ck_assert_str_eq(first->file[i].name, second->file[i].name);
        ck_assert_uint_eq(first->file[i].len, second->file[i].len);
        ck_assert(memcmp(first->file[i].bytes, second->file[i].bytes, first->file[i].len) == 0);
    }
    bp_files_free(first);
    bp_files_free(second);
}
END_TEST

START_TEST(a_cook_who_is_no_longer_in_the_show_is_told)
{
    bp_files *first = make(folder);
    ck_assert_int_eq(bp_outputs_save(first, folder, &errs), BP_OK);
    for (uint32_t i = 0; i < sample.plan.ops; i++)
        if (sample.op[i].person == 2)
            sample.op[i].person = 0;
    sample.plan.persons = 2;
    sample.plan.stints = 3;
    for (int run = 0; run < 2; run++) {
        bp_files *files = make(folder);
        const bp_file *gone = file_of(files, "prep-marta.ics");
        ck_assert_ptr_nonnull(gone);
        ck_assert_ptr_nonnull(strstr(gone->bytes, "STATUS:CANCELLED"));
        ck_assert_ptr_null(strstr(gone->bytes, "STATUS:CONFIRMED"));
        ck_assert_int_eq(bp_outputs_save(files, folder, &errs), BP_OK);
        bp_files_free(files);
    }
    bp_files_free(first);
}
END_TEST

START_TEST(a_foreign_calendar_stops_everything_and_stays)
{
    static const char foreign[] = "BEGIN:VCALENDAR\r\nPRODID:-//other//EN\r\nEND:VCALENDAR\r\n";
    static const char *const names[] = {"prep.ics", "prep-rui.ics"};
    for (size_t i = 0; i < 2; i++) {
        write_file(names[i], foreign);
        bp_output_options options = {.leave_out = NO_PAPER, .folder = folder};
        bp_files *files = NULL;
        errs.n = 0;
        ck_assert_int_eq(bp_outputs_write(&files, &sample.plan, &options, &errs), BP_EIO);
        ck_assert_ptr_null(files);
        ck_assert_uint_eq(errs.n, 1);
        ck_assert_uint_eq(errs.item[0].line, 2);
        ck_assert_ptr_nonnull(strstr(errs.item[0].file, names[i]));
        holds(names[i], foreign, sizeof foreign - 1);
        char path[512];
        snprintf(path, sizeof path, "%s/%s", folder, names[i]);
        unlink(path);
    }
}
END_TEST

START_TEST(a_folder_in_place_of_a_calendar_is_an_error)
{
    char path[512];
    snprintf(path, sizeof path, "%s/prep.ics", folder);
    ck_assert_int_eq(mkdir(path, 0700), 0);
    bp_output_options options = {.leave_out = NO_PAPER, .folder = folder};
    bp_files *files = NULL;
    ck_assert_int_eq(bp_outputs_write(&files, &sample.plan, &options, &errs), BP_EIO);
    ck_assert_uint_eq(errs.n, 1);
}
END_TEST

START_TEST(without_any_plan_only_the_reasons_are_written)
{
    sample.plan.verdict = BP_NONE;
    bp_files *files = make(NULL);
    ck_assert_uint_eq(files->n, 1);
    ck_assert_str_eq(files->file[0].name, "plan.json");
    bp_files_free(files);
    bp_files_free(NULL);
}
END_TEST

START_TEST(every_system_call_fails_once_and_the_old_files_stay)
{
    bp_files *old = make(NULL);
    ck_assert_int_eq(bp_outputs_save(old, folder, &errs), BP_OK);
    sample.op[0].text = "changed";
    bool fired = true;
    for (long k = 0; fired; k++) {
        bp_output_options options = {.leave_out = NO_PAPER, .folder = folder};
        bp_files *files = NULL;
        errs.n = 0;
        bpi_sys_fail_at(k, 5, 0); /* EIO */
        bp_code rc = bp_outputs_write(&files, &sample.plan, &options, &errs);
        if (rc == BP_OK)
            rc = bp_outputs_save(files, folder, &errs);
        fired = bpi_sys_failed();
        bpi_sys_fail_at(-1, 0, 0);
        if (rc != BP_OK) {
            ck_assert_uint_gt(errs.n, 0);
            for (uint32_t i = 0; i < old->n; i++)
                holds(old->file[i].name, old->file[i].bytes, old->file[i].len);
        } else { /* what failed did not matter, or nothing did: put the old set back */
            ck_assert_int_eq(bp_outputs_save(old, folder, &errs), BP_OK);
        }
        bp_files_free(files);
    }
    bp_files_free(old);
}
END_TEST

START_TEST(every_request_fails_once)
{
    bp_files *old = make(NULL);
    ck_assert_int_eq(bp_outputs_save(old, folder, &errs), BP_OK);
    bp_files_free(old);
    bool fired = true;
    for (long k = 0; fired; k++) {
        bp_output_options options = {.leave_out = NO_PAPER | 1u << BP_OUT_JSON, .folder = folder};
        bp_files *files = NULL;
        errs.n = 0;
        bpi_mem_fail_at(k, 0);
        bp_code rc = bp_outputs_write(&files, &sample.plan, &options, &errs);
        fired = bpi_mem_failed();
        bpi_mem_fail_at(-1, 0);
        ck_assert_int_eq(rc, fired ? BP_ENOMEM : BP_OK);
        ck_assert((files == NULL) == fired);
        bp_files_free(files);
        ck_assert_int_eq(bpi_mem_alive(), 0);
    }
}
END_TEST

Suite *suite_out_outputs(void);
Suite *suite_out_outputs(void)
{
    Suite *s = suite_create("out/outputs");
    TCase *c = tcase_create("outputs");
    tcase_add_checked_fixture(c, set_up, tear_down);
    tcase_add_test(c, each_wanted_file_is_made_and_saved);
    tcase_add_test(c, a_second_run_over_the_same_plan_changes_no_byte);
    tcase_add_test(c, a_cook_who_is_no_longer_in_the_show_is_told);
    tcase_add_test(c, a_foreign_calendar_stops_everything_and_stays);
    tcase_add_test(c, a_folder_in_place_of_a_calendar_is_an_error);
    tcase_add_test(c, without_any_plan_only_the_reasons_are_written);
    tcase_add_test(c, every_system_call_fails_once_and_the_old_files_stay);
    tcase_add_test(c, every_request_fails_once);
    suite_add_tcase(s, c);
    return s;
}
