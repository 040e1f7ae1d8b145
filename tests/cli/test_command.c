#include <check.h>
#include <string.h>

#include "cli/command.h"
#include "cli/message.h"

START_TEST(commands_stand_by_name)
{
    for (const bpi_command *const *c = bpi_commands; c[0] && c[1]; c++)
        ck_assert_msg(strcmp(c[0]->name, c[1]->name) < 0, "%s before %s", c[0]->name, c[1]->name);
}
END_TEST

START_TEST(each_command_is_whole)
{
    for (const bpi_command *const *c = bpi_commands; *c; c++) {
        ck_assert((*c)->run && (*c)->help && (*c)->operands);
        ck_assert_uint_le((*c)->options, BPI_MAX_OPTIONS);
        ck_assert_int_le((*c)->least, (*c)->most);
        for (unsigned i = 0; i < (*c)->options; i++) {
            const bpi_option *o = &(*c)->option[i];
            ck_assert_msg(o->name && o->help[0], "%s: option %u", (*c)->name, i);
            ck_assert_msg(o->letter != 'h' && strcmp(o->name, "help") != 0, "help is everybody's");
            for (unsigned k = i + 1; k < (*c)->options; k++) {
                ck_assert_str_ne(o->name, (*c)->option[k].name);
                ck_assert(!o->letter || o->letter != (*c)->option[k].letter);
            }
        }
    }
}
END_TEST

START_TEST(a_name_near_to_a_command_is_a_hint)
{
    bp_errors errs = {0};
    ck_assert_ptr_eq(bpi_command_find("plan", &errs), &bpi_command_plan);
    ck_assert_uint_eq(errs.n, 0);
    ck_assert_ptr_null(bpi_command_find("shcema", &errs));
    ck_assert_str_eq(errs.item[0].right, "write schema");
    ck_assert_ptr_null(bpi_command_find("", &errs));
    ck_assert_str_eq(errs.item[1].right, "write backpot help for a list");
}
END_TEST

/* The statuses are promised in the manual page: changing one breaks scripts. */
START_TEST(each_code_of_the_library_has_its_exit_status)
{
    static const int want[BP_NCODES] = {
        [BP_OK] = 0,     [BP_ESYNTAX] = 2,   [BP_EVALUE] = 2,  [BP_ERANGE] = 2,
        [BP_ELIMIT] = 2, [BP_ENOFIT] = 3,    [BP_EUNSURE] = 5, [BP_EIO] = 1,
        [BP_ENOMEM] = 1, [BP_EINTERNAL] = 6, [BP_EUNSAFE] = 7,
    };
    for (int code = 0; code < BP_NCODES; code++)
        ck_assert_int_eq(bpi_message_exit((bp_code)code), want[code]);
}
END_TEST

Suite *suite_cli_command(void);
Suite *suite_cli_command(void)
{
    Suite *s = suite_create("cli/command");
    TCase *t = tcase_create("command");
    tcase_add_test(t, commands_stand_by_name);
    tcase_add_test(t, each_command_is_whole);
    tcase_add_test(t, a_name_near_to_a_command_is_a_hint);
    tcase_add_test(t, each_code_of_the_library_has_its_exit_status);
    suite_add_tcase(s, t);
    return s;
}
