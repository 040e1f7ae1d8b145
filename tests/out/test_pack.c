#include "out/pack.h"

#include <check.h>
#include <string.h>

#include "base/memory.h"
#include "support/plan_sample.h"

static plan_sample sample;

START_TEST(what_is_packed_has_a_box_and_what_is_there_has_none)
{
    bpi_text t = BPI_TEXT_EMPTY;
    plan_sample_fill(&sample);
    ck_assert_int_eq(bpi_pack_text_write(&t, &sample.plan, NULL), BP_OK);
    const char *list = strstr(t.s, "\n\n");
    ck_assert_ptr_nonnull(list);
    ck_assert_int_eq(strncmp(t.s, "Pack list: ", 11), 0);
    static const char want[] =
        "\n\nKitchen, before the hit\n"
        "  [ ]     4  soup pot, 4 L                       provided        A1 A2 A3 A4\n"
        "\n"
        "Set: Dois pratos para uma manhã fria (two bowls for a cold morning), 08:24 (on set by "
        "08:19)\n"
        "  [ ]     1  soup pot, 4 L                       provided        A1 A5  2 in use, 1 of "
        "them "
        "packed already\n"
        "          1  stick blender                       packed already  A3\n"
        "\n"
        "Tasting: Something sweet: Πορτοκαλόπιτα, 09:12 (on set by 09:06)\n"
        "  [ ]     3  tasting spoon, 1 a person and dish  brought         C3\n"
        "\n";
    ck_assert_int_eq(strncmp(list, want, sizeof want - 1), 0);
    bpi_text_release(&t);
    sample.plan.packs = 0;
    ck_assert_int_eq(bpi_pack_text_write(&t, &sample.plan, NULL), BP_OK);
    ck_assert_ptr_nonnull(strstr(t.s, "\nNothing to pack.\n"));
    bpi_text_release(&t);
    ck_assert_int_eq(bpi_mem_alive(), 0);
}
END_TEST

START_TEST(the_table_says_who_brings_it)
{
    bpi_text t = BPI_TEXT_EMPTY;
    plan_sample_fill(&sample);
    ck_assert_int_eq(bpi_pack_csv_write(&t, &sample.plan, NULL), BP_OK);
    ck_assert_str_eq(t.s, "for,appearance,kind,item,note,packed,in use,by,containers\r\n"
                          "kitchen,,vessel,soup pot,4 L,4,4,house,A1 A2 A3 A4\r\n"
                          "set,main,vessel,soup pot,4 L,1,2,house,A1 A5\r\n"
                          "set,main,tool,stick blender,,0,1,crew,A3\r\n"
                          "tasting,sweet,supply,tasting spoon,1 a person and dish,3,3,crew,C3\r\n");
    bpi_text_release(&t);
}
END_TEST

Suite *suite_out_pack(void);
Suite *suite_out_pack(void)
{
    Suite *s = suite_create("out/pack");
    TCase *c = tcase_create("pack");
    tcase_add_test(c, what_is_packed_has_a_box_and_what_is_there_has_none);
    tcase_add_test(c, the_table_says_who_brings_it);
    suite_add_tcase(s, c);
    return s;
}
