#include "base/file.h"

#include <check.h>
#include <dirent.h>
#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/memory.h"
#include "base/outset.h"
#include "base/sys.h"

static bp_errors errs;
static char dir[64];

static void set_up(void)
{
    errs = (bp_errors){0};
    strcpy(dir, "/tmp/backpot-test-XXXXXX");
    ck_assert_ptr_nonnull(mkdtemp(dir));
}

/* The path of a file in the folder of this test. The text of the call before the last is kept. */
static const char *in_dir(const char *name)
{
    static char path[2][400];
    static int turn;
    turn = !turn;
    snprintf(path[turn], sizeof path[turn], "%s/%s", dir, name);
    return path[turn];
}

static void empty_dir(const char *path)
{
    DIR *d = opendir(path);
    for (struct dirent *e; d && (e = readdir(d)) != NULL;) {
        char name[600];
        snprintf(name, sizeof name, "%s/%s", path, e->d_name);
        if (strcmp(e->d_name, ".") != 0 && strcmp(e->d_name, "..") != 0 && unlink(name) != 0) {
            empty_dir(name);
            rmdir(name);
        }
    }
    if (d)
        closedir(d);
}

static void tear_down(void)
{
    bpi_sys_chunk(0);
    empty_dir(dir);
    ck_assert_int_eq(rmdir(dir), 0);
    ck_assert_int_eq(bpi_mem_alive(), 0);
}

static int files_in_dir(void)
{
    int n = 0;
    DIR *d = opendir(dir);
    ck_assert_ptr_nonnull(d);
    while (readdir(d))
        n++;
    closedir(d);
    return n - 2; /* "." and ".." */
}

static void check_content(const char *name, const char *content)
{
    bpi_text t = BPI_TEXT_EMPTY;
    bp_errors own = {0};
    bp_code rc = bpi_file_read(&t, in_dir(name), 1000000, &own);
    if (content) {
        ck_assert_msg(rc == BP_OK, "%s: %s", name, own.item[0].wrong);
        ck_assert_str_eq(t.s, content);
    } else {
        ck_assert_int_eq(rc, BP_EIO);
    }
    bpi_text_release(&t);
}

static void put(const char *name, const char *content)
{
    ck_assert_int_eq(bpi_file_write(in_dir(name), content, strlen(content), &errs), BP_OK);
}

/* ---- reading --------------------------------------------------------------------------------- */

START_TEST(what_was_written_is_read)
{
    static char big[300000];
    for (size_t i = 0; i < sizeof big; i++)
        big[i] = (char)(i * 7);
    static const size_t sizes[] = {0, 1, 65535, 65536, 65537, sizeof big};
    for (size_t i = 0; i < sizeof sizes / sizeof *sizes; i++) {
        bpi_text t = BPI_TEXT_EMPTY;
        ck_assert_int_eq(bpi_file_write(in_dir("f"), big, sizes[i], &errs), BP_OK);
        ck_assert_int_eq(bpi_file_read(&t, in_dir("f"), sizeof big, &errs), BP_OK);
        ck_assert_uint_eq(t.len, sizes[i]);
        ck_assert_ptr_nonnull(t.s);
        ck_assert_int_eq(memcmp(t.s, big, sizes[i]), 0);
        ck_assert_int_eq(t.s[t.len], 0);
        bpi_text_release(&t);
    }
    ck_assert_int_eq(files_in_dir(), 1);
}
END_TEST

START_TEST(size_is_bounded_on_both_sides)
{
    bpi_text t = BPI_TEXT_EMPTY;
    bpi_text_put(&t, "before ");
    put("f", "12345");
    ck_assert_int_eq(bpi_file_read(&t, in_dir("f"), 4, &errs), BP_ELIMIT);
    ck_assert_str_eq(t.s, "before ");
    ck_assert_int_eq(bpi_file_read(&t, in_dir("f"), 5, &errs), BP_OK);
    ck_assert_str_eq(t.s, "before 12345");
    bpi_text_release(&t);
}
END_TEST

START_TEST(what_cannot_be_read_says_why)
{
    bpi_text t = BPI_TEXT_EMPTY;
    static const struct {
        const char *name, *says;
    } rows[] = {
        {"missing", "cannot open it: there is no such file or folder"},
        {"", "cannot read it: it is a folder"},
        {"file/below", "cannot open it: a part of its path is not a folder"},
    };
    put("file", "x");
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        errs = (bp_errors){0};
        ck_assert_int_eq(bpi_file_read(&t, in_dir(rows[i].name), 10, &errs), BP_EIO);
        ck_assert_str_eq(errs.item[0].wrong, rows[i].says);
        ck_assert_str_eq(errs.item[0].file, in_dir(rows[i].name));
    }
    bpi_text_release(&t);
}
END_TEST

START_TEST(a_pipe_is_read_to_its_end)
{
    int ends[2];
    bpi_text t = BPI_TEXT_EMPTY;
    ck_assert_int_eq(pipe(ends), 0);
    ck_assert_int_eq(write(ends[1], "from a pipe", 11), 11);
    close(ends[1]);
    bpi_sys_chunk(3);
    ck_assert_int_eq(bpi_file_read_fd(&t, ends[0], "-", 100, &errs), BP_OK);
    ck_assert_str_eq(t.s, "from a pipe");
    close(ends[0]);
    bpi_text_release(&t);
}
END_TEST

START_TEST(every_call_may_fail_while_reading)
{
    put("f", "some content");
    bpi_sys_chunk(5); /* several reads */
    bool fired = true;
    for (long k = 0; fired; k++) {
        ck_assert_int_lt(k, 100);
        bpi_text t = BPI_TEXT_EMPTY;
        bpi_sys_fail_at(k, EIO, 0);
        bp_code rc = bpi_file_read(&t, in_dir("f"), 100, &errs);
        fired = bpi_sys_failed();
        bpi_sys_fail_at(-1, 0, 0);
        bool closing = fired && rc == BP_OK; /* only a failed close may go by */
        ck_assert(!closing || k == 6);
        ck_assert_int_eq(rc, fired && !closing ? BP_EIO : BP_OK);
        ck_assert_uint_eq(t.len, rc == BP_OK ? 12 : 0);
        bpi_text_release(&t);
    }
}
END_TEST

START_TEST(an_interrupted_call_is_made_again)
{
    bpi_sys_chunk(5);
    bool fired = true;
    for (long k = 0; fired; k++) {
        bpi_text t = BPI_TEXT_EMPTY;
        bpi_sys_fail_at(k, EINTR, 0);
        bp_code rc = bpi_file_write(in_dir("f"), "some content", 12, &errs);
        fired = bpi_sys_failed();
        bpi_sys_fail_at(-1, 0, 0);
        /* rename is not interrupted on any system we know; all the others may be */
        ck_assert_msg(rc == BP_OK || k == 6 || k == 7, "call %ld", k);
        if (rc != BP_OK)
            put("f", "some content");
        bpi_sys_fail_at(k, EINTR, 0);
        rc = bpi_file_read(&t, in_dir("f"), 100, &errs);
        bpi_sys_fail_at(-1, 0, 0);
        ck_assert_msg(rc == BP_OK || k == 1, "call %ld", k); /* 1: fstat is not interrupted */
        bpi_text_release(&t);
    }
    check_content("f", "some content");
}
END_TEST

/* ---- writing --------------------------------------------------------------------------------- */

START_TEST(the_old_file_survives_every_failure_to_replace_it)
{
    static const int errors[] = {EIO, ENOSPC, EDQUOT, EACCES, EROFS};
    for (size_t e = 0; e < sizeof errors / sizeof *errors; e++) {
        bool fired = true;
        for (long k = 0; fired; k++) {
            ck_assert_int_lt(k, 100);
            put("f", "the old content");
            errs = (bp_errors){0};
            bpi_sys_chunk(4);
            bpi_sys_fail_at(k, errors[e], 0);
            bp_code rc = bpi_file_write(in_dir("f"), "new content", 11, &errs);
            fired = bpi_sys_failed();
            bpi_sys_fail_at(-1, 0, 0);
            bpi_sys_chunk(0);
            /* Calls: open, 3 writes, fsync, close, rename; then the folder: open, fsync, close.
             * Past the rename the new file stands whole, and it is still an error. */
            bool closed_only = k == 9 && fired;
            ck_assert_int_eq(rc, fired && !closed_only ? BP_EIO : BP_OK);
            ck_assert_uint_eq(errs.n, rc != BP_OK);
            check_content("f", fired && k < 7 ? "the old content" : "new content");
            ck_assert_int_eq(files_in_dir(), 1);
        }
    }
}
END_TEST

START_TEST(a_failure_that_stays_leaves_the_old_file_too)
{
    for (long k = 0; k < 7; k++) {
        empty_dir(dir); /* a temporary file that could not be removed */
        put("f", "the old content");
        bpi_sys_fail_at(k, ENOSPC, 1);
        ck_assert_int_eq(bpi_file_write(in_dir("f"), "new", 3, &errs), BP_EIO);
        bpi_sys_fail_at(-1, 0, 0);
        check_content("f", k < 5 ? "the old content" : "new");
    }
}
END_TEST

START_TEST(left_over_temporary_files_are_stepped_over)
{
    put(".f.new0", "left over");
    put("f", "content");
    check_content(".f.new0", "left over");
    check_content("f", "content");
    ck_assert_int_eq(files_in_dir(), 2);
}
END_TEST

/* What a rename would replace though nobody meant it: a pipe, and a device behind a link. */
START_TEST(what_is_no_regular_file_is_not_replaced)
{
    struct stat st;
    ck_assert_int_eq(mkfifo(in_dir("pipe"), 0666), 0);
    ck_assert_int_eq(symlink("/dev/null", in_dir("out")), 0);
    ck_assert_int_eq(bpi_file_write(in_dir("pipe"), "x", 1, &errs), BP_EIO);
    ck_assert_int_eq(lstat(in_dir("pipe"), &st), 0);
    ck_assert(S_ISFIFO(st.st_mode));
    ck_assert_int_eq(bpi_file_write(in_dir("out"), "x", 1, &errs), BP_EIO);
    ck_assert_int_eq(lstat(in_dir("out"), &st), 0);
    ck_assert(S_ISLNK(st.st_mode));
    ck_assert_int_eq(files_in_dir(), 2);
    ck_assert_int_eq(unlink(in_dir("pipe")), 0);
    ck_assert_int_eq(unlink(in_dir("out")), 0);
}
END_TEST

START_TEST(a_path_is_parted_into_folder_and_name)
{
    ck_assert_uint_eq(bpi_file_folder("a.json"), 0);
    ck_assert_uint_eq(bpi_file_folder("shows/a.json"), 5);
    ck_assert_uint_eq(bpi_file_folder("/a.json"), 1);
    ck_assert_uint_eq(bpi_file_folder("../x/a"), 4);
}
END_TEST

START_TEST(the_new_file_obeys_the_umask)
{
    mode_t old = umask(027);
    put("f", "x");
    umask(old);
    struct stat st;
    ck_assert_int_eq(stat(in_dir("f"), &st), 0);
    ck_assert_uint_eq(st.st_mode & 0777, 0640);
}
END_TEST

START_TEST(writing_without_memory_changes_nothing)
{
    put("f", "old");
    bool fired = true;
    for (long k = 0; fired; k++) {
        bpi_mem_fail_at(k, 0);
        bp_code rc = bpi_file_write(in_dir("f"), "new", 3, &errs);
        fired = bpi_mem_failed();
        bpi_mem_fail_at(-1, 0);
        ck_assert_int_eq(rc, fired ? BP_ENOMEM : BP_OK);
        check_content("f", fired ? "old" : "new");
        ck_assert_int_eq(files_in_dir(), 1);
    }
}
END_TEST

/* ---- a set of files -------------------------------------------------------------------------- */

/* Old: a, b, gone. New: a, b, c; "gone" is taken away. */
static void lay_out_old(void)
{
    empty_dir(dir);
    put("a", "old a");
    put("b", "old b");
    put("gone", "old gone");
}

static bp_code write_new(void)
{
    bpi_outset *set = NULL;
    bp_code rc = bpi_outset_new(&set, dir, &errs);
    ck_assert_int_eq(rc == BP_OK, set != NULL);
    if (rc == BP_OK)
        rc = bpi_outset_add(set, "a", "new a", 5, &errs);
    if (rc == BP_OK)
        rc = bpi_outset_add(set, "b", "new b", 5, &errs);
    if (rc == BP_OK)
        rc = bpi_outset_remove(set, "gone", &errs);
    if (rc == BP_OK)
        rc = bpi_outset_add(set, "c", "new c", 5, &errs);
    if (rc == BP_OK)
        rc = bpi_outset_commit(set, &errs);
    bpi_outset_free(set);
    return rc;
}

static void check_all_old(void)
{
    check_content("a", "old a");
    check_content("b", "old b");
    check_content("c", NULL);
    check_content("gone", "old gone");
}

static void check_all_new(void)
{
    check_content("a", "new a");
    check_content("b", "new b");
    check_content("c", "new c");
    check_content("gone", NULL);
}

START_TEST(a_set_replaces_all_its_files)
{
    lay_out_old();
    ck_assert_int_eq(write_new(), BP_OK);
    check_all_new();
    ck_assert_int_eq(files_in_dir(), 3);
    ck_assert_int_eq(write_new(), BP_OK); /* taking away what is not there is no error */
    check_all_new();
}
END_TEST

START_TEST(any_call_that_fails_leaves_all_old_files_and_no_others)
{
    static const int errors[] = {EIO, ENOSPC, EINTR};
    for (size_t e = 0; e < sizeof errors / sizeof *errors; e++) {
        bool fired = true;
        long k = 0;
        int stayed = 0;
        for (; fired; k++) {
            ck_assert_int_lt(k, 200);
            lay_out_old();
            errs = (bp_errors){0};
            bpi_sys_fail_at(k, errors[e], 0);
            bp_code rc = write_new();
            fired = bpi_sys_failed();
            bpi_sys_fail_at(-1, 0, 0);
            ck_assert_int_eq(rc == BP_OK, errs.n == 0);
            if (rc == BP_OK)
                check_all_new(); /* nothing failed, or only what could be done again or left undone
                                  */
            else
                check_all_old();
            /* Removing a second name is all that may be left undone. */
            int left = files_in_dir() - 3;
            ck_assert_int_ge(left, 0);
            stayed += left;
        }
        ck_assert_int_gt(k, 20);
        ck_assert_int_le(stayed, 3);
    }
}
END_TEST

START_TEST(a_set_without_memory_leaves_all_old_files)
{
    bool fired = true;
    for (long k = 0; fired; k++) {
        lay_out_old();
        bpi_mem_fail_at(k, 0);
        bp_code rc = write_new();
        fired = bpi_mem_failed();
        bpi_mem_fail_at(-1, 0);
        ck_assert_int_eq(rc, fired ? BP_ENOMEM : BP_OK);
        if (fired)
            check_all_old();
        else
            check_all_new();
        ck_assert_int_eq(files_in_dir(), 3);
        ck_assert_int_eq(bpi_mem_alive(), 0);
    }
}
END_TEST

START_TEST(a_folder_in_the_way_leaves_all_old_files)
{
    lay_out_old();
    ck_assert_int_eq(mkdir(in_dir("c"), 0777), 0);
    ck_assert_int_eq(write_new(), BP_EIO);
    ck_assert_uint_eq(errs.n, 1);
    check_content("a", "old a");
    check_content("b", "old b");
    check_content("gone", "old gone");
    ck_assert_int_eq(files_in_dir(), 4);
}
END_TEST

START_TEST(folders_above_are_made_too)
{
    bpi_outset *set = NULL;
    char deep[400];
    snprintf(deep, sizeof deep, "%s/m/n/", dir);
    ck_assert_int_eq(bpi_outset_new(&set, deep, &errs), BP_OK);
    ck_assert_int_eq(bpi_outset_add(set, "a", "new", 3, &errs), BP_OK);
    ck_assert_int_eq(bpi_outset_commit(set, &errs), BP_OK);
    bpi_outset_free(set);
    check_content("m/n/a", "new");
    ck_assert_int_eq(bpi_outset_new(&set, "/dev/null/m/n", &errs), BP_EIO);
    ck_assert_ptr_null(set);
    bpi_sys_fail_at(0, ENOENT, 1);
    snprintf(deep, sizeof deep, "%s/o/p", dir);
    ck_assert_int_eq(bpi_outset_new(&set, deep, &errs), BP_EIO);
    bpi_sys_fail_at(-1, 0, 0);
    ck_assert_uint_eq(errs.n, 2);
    ck_assert_int_eq(unlink(in_dir("m/n/a")), 0);
    ck_assert_int_eq(rmdir(in_dir("m/n")), 0);
    ck_assert_int_eq(rmdir(in_dir("m")), 0);
    ck_assert_int_eq(files_in_dir(), 0);
}
END_TEST

START_TEST(a_path_is_barred_where_links_lead_out)
{
    char inner[400], out[400];
    snprintf(inner, sizeof inner, "%s", in_dir("in"));
    snprintf(out, sizeof out, "%s", in_dir("inner")); /* begins like it */
    ck_assert_int_eq(mkdir(inner, 0777), 0);
    ck_assert_int_eq(bpi_file_write(out, "x", 1, &errs), BP_OK);
    ck_assert_int_eq(bpi_file_write(in_dir("in/good"), "x", 1, &errs), BP_OK);
    ck_assert_int_eq(symlink("good", in_dir("in/inside")), 0);
    ck_assert_int_eq(symlink("../inner", in_dir("in/outside")), 0);
    ck_assert_int_eq(mkfifo(in_dir("in/pipe"), 0666), 0);
    ck_assert_ptr_null(bpi_file_barred(in_dir("in/good"), inner));
    ck_assert_ptr_null(bpi_file_barred(in_dir("in/inside"), inner));
    ck_assert_ptr_null(bpi_file_barred(in_dir("in/none"), inner));
    ck_assert_str_eq(bpi_file_barred(in_dir("in/outside"), inner),
                     "a link leads out of the folder of the show");
    ck_assert_str_eq(bpi_file_barred(out, inner), "a link leads out of the folder of the show");
    ck_assert_str_eq(bpi_file_barred(in_dir("in/pipe"), inner), "it is no regular file");
    empty_dir(inner);
    ck_assert_int_eq(rmdir(inner), 0);
}
END_TEST

START_TEST(what_is_not_committed_is_not_there)
{
    lay_out_old();
    bpi_outset *set = NULL;
    ck_assert_int_eq(bpi_outset_new(&set, dir, &errs), BP_OK);
    ck_assert_int_eq(bpi_outset_add(set, "a", "new", 3, &errs), BP_OK);
    ck_assert_int_eq(bpi_outset_remove(set, "gone", &errs), BP_OK);
    bpi_outset_free(set);
    bpi_outset_free(NULL);
    check_all_old();
    ck_assert_int_eq(files_in_dir(), 3);
}
END_TEST

START_TEST(the_folder_is_made_and_names_are_held_to_it)
{
    bpi_outset *set = NULL;
    ck_assert_int_eq(bpi_outset_new(&set, "/dev/null/er", &errs), BP_EIO);
    ck_assert_ptr_null(set);
    ck_assert_int_eq(bpi_outset_new(&set, "", &errs), BP_EVALUE);
    ck_assert_int_eq(bpi_outset_new(&set, in_dir("new"), &errs), BP_OK);
    static const char *const bad[] = {"", ".", "..", "a/b", "../a", "/a", ".hidden"};
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++) {
        ck_assert_msg(bpi_outset_add(set, bad[i], "x", 1, &errs) == BP_EVALUE, "%s", bad[i]);
        ck_assert_msg(bpi_outset_remove(set, bad[i], &errs) == BP_EVALUE, "%s", bad[i]);
    }
    ck_assert_int_eq(bpi_outset_add(set, "a", "x", 1, &errs), BP_OK);
    ck_assert_int_eq(bpi_outset_add(set, "a", "y", 1, &errs), BP_EVALUE);
    ck_assert_int_eq(bpi_outset_commit(set, &errs), BP_OK);
    bpi_outset_free(set);
    check_content("new/a", "x");
}
END_TEST

START_TEST(a_file_where_the_folder_should_be_is_an_error)
{
    bpi_outset *set = NULL;
    put("f", "x");
    ck_assert_int_eq(bpi_outset_new(&set, in_dir("f"), &errs), BP_OK);
    ck_assert_int_eq(bpi_outset_add(set, "a", "x", 1, &errs), BP_EIO);
    bpi_outset_free(set);
    check_content("f", "x");
}
END_TEST

Suite *suite_base_file(void);
Suite *suite_base_file(void)
{
    Suite *s = suite_create("base/file");
    TCase *c = tcase_create("file");
    tcase_add_checked_fixture(c, set_up, tear_down);
    tcase_add_test(c, what_was_written_is_read);
    tcase_add_test(c, size_is_bounded_on_both_sides);
    tcase_add_test(c, what_cannot_be_read_says_why);
    tcase_add_test(c, a_pipe_is_read_to_its_end);
    tcase_add_test(c, every_call_may_fail_while_reading);
    tcase_add_test(c, an_interrupted_call_is_made_again);
    tcase_add_test(c, the_old_file_survives_every_failure_to_replace_it);
    tcase_add_test(c, a_failure_that_stays_leaves_the_old_file_too);
    tcase_add_test(c, left_over_temporary_files_are_stepped_over);
    tcase_add_test(c, what_is_no_regular_file_is_not_replaced);
    tcase_add_test(c, a_path_is_parted_into_folder_and_name);
    tcase_add_test(c, the_new_file_obeys_the_umask);
    tcase_add_test(c, writing_without_memory_changes_nothing);
    tcase_add_test(c, a_set_replaces_all_its_files);
    tcase_add_test(c, any_call_that_fails_leaves_all_old_files_and_no_others);
    tcase_add_test(c, a_set_without_memory_leaves_all_old_files);
    tcase_add_test(c, a_folder_in_the_way_leaves_all_old_files);
    tcase_add_test(c, folders_above_are_made_too);
    tcase_add_test(c, a_path_is_barred_where_links_lead_out);
    tcase_add_test(c, what_is_not_committed_is_not_there);
    tcase_add_test(c, the_folder_is_made_and_names_are_held_to_it);
    tcase_add_test(c, a_file_where_the_folder_should_be_is_an_error);
    suite_add_tcase(s, c);
    return s;
}
