/* What stands in the way, and what would help, in the words of the show file. */
#include <check.h>
#include <stdlib.h>
#include <string.h>

#include "prep/fact.h"
#include "support/prep_show.h"

static const char show_text[] =
    "{\"backpot\": 1, \"id\": \"t\", \"title\": \"T\", \"date\": \"2026-12-03\", \"zone\": \"UTC\","
    "\"kitchen\": {\"burners\": 1,\n"
    " \"cooks\": [{\"id\": \"a\", \"name\": \"Ana\", \"skills\": [\"pastry\", \"fire\"], "
    "\"shifts\":"
    "  [{\"call\": \"05:00\", \"wrap\": \"06:00\"}, {\"call\": \"06:30\", \"wrap\": \"10:00\"}],"
    "  \"breaks\": [{\"from\": \"07:00\", \"to\": \"07:15\"}]},"
    "  {\"id\": \"b\", \"name\": \"Bo\", \"call\": \"05:00\", \"wrap\": \"10:00\", \"skills\": "
    "  [\"fire\"]}],\n"
    " \"ovens\": [{\"id\": \"o\", \"name\": \"Deck\", \"positions\": 1, \"idle\": \"20 min\"}],"
    " \"tools\": [{\"id\": \"mill\", \"name\": \"mill\", \"count\": 1}],"
    " \"vessels\": [{\"id\": \"pot\", \"name\": \"pot\", \"size\": \"4 l\", \"count\": 2}],"
    " \"places\": [{\"id\": \"h\", \"name\": \"warm\", \"keeps\": \"hot\", \"count\": 1}]},\n"
    "\"recipes\": [{\"id\": \"r\", \"title\": \"Pie\", \"steps\": ["
    " {\"id\": \"chop\", \"text\": \"Chop\", \"kind\": \"active\", \"time\": \"5 min\","
    "  \"tools\": [\"mill\"], \"skill\": \"fire\","
    "  \"together\": {\"once\": \"2 min\", \"each\": \"1 min\"}, \"hold\": {\"counter\": \"1 h\"},"
    "  \"ingredients\": [{\"item\": \"leek\", \"amount\": \"1\"}]},"
    " {\"id\": \"stew\", \"text\": \"Stew\", \"kind\": \"passive\", \"time\": \"15-18 min\","
    "  \"burner\": true, \"vessels\": [\"pot\"], \"hold\": {}},"
    " {\"id\": \"bake\", \"text\": \"Bake\", \"kind\": \"oven\", \"time\": \"20 min\","
    "  \"oven\": {\"temperature\": \"200 C\"}, \"hold\": {\"hot\": \"30 min\", \"set\": \"10 "
    "min\"}},"
    " {\"id\": \"ice\", \"text\": \"Glaze\", \"kind\": \"active\", \"time\": \"3 min\", "
    "  \"skill\": \"pastry\", \"hold\": {\"set\": \"1 h\"}}]}],\n"
    "\"segments\": [{\"id\": \"s\", \"title\": \"Early\", \"hit\": \"08:00\", \"slot\": \"3:00\","
    " \"lead\": \"5 min\", \"hands\": 1, \"reset\": \"10 min\","
    " \"dishes\": [{\"id\": \"d\", \"title\": \"Pie\", \"recipe\": \"r\", \"taste\": false,"
    "  \"lead\": \"8 min\"}, {\"id\": \"e\", \"title\": \"Tart\", \"recipe\": \"r\","
    "  \"taste\": false}],"
    " \"beats\": [{\"id\": \"raw\", \"text\": \"Raw\", \"dish\": \"d\", \"does\": [\"chop\"],"
    "  \"time\": \"20-180 s\"}, {\"id\": \"look\", \"text\": \"Look\", \"dish\": \"d\","
    "  \"shows\": \"finished\", \"time\": \"20-180 s\"}, {\"id\": \"last\", \"text\": \"Last\","
    "  \"dish\": \"e\", \"shows\": \"finished\", \"time\": \"20-180 s\"}]},"
    " {\"id\": \"z\", \"title\": \"Late\", \"hit\": \"09:00\", \"slot\": \"3:00\", \"hands\": 2,"
    " \"dishes\": [{\"id\": \"d\", \"title\": \"Pie\", \"recipe\": \"r\", \"taste\": false}],"
    " \"beats\": [{\"id\": \"look\", \"text\": \"Look\", \"dish\": \"d\", \"shows\": \"finished\","
    "  \"time\": \"20-180 s\"}]}]}\n";

static prep_show p;

/* The show, with one text put in the place of another; NULL: as it is. */
static void open_show(const char *from, const char *to)
{
    char *text = malloc(2 * sizeof show_text);
    ck_assert_ptr_nonnull(text);
    const char *at = from ? strstr(show_text, from) : NULL;
    ck_assert_msg(at || !from, "the show does not hold %s", from);
    if (at) {
        size_t head = (size_t)(at - show_text);
        memcpy(text, show_text, head);
        memcpy(text + head, to, strlen(to));
        strcpy(text + head + strlen(to), at + strlen(from));
    } else {
        strcpy(text, show_text);
    }
    prep_show_init(&p, text);
}

/* The fact of that kind that is said so; fails the test where there is none. */
static uint32_t fact_said(bpi_fact_kind kind, const char *says)
{
    const bp_eng_problem *e = &p.prep->problem;
    for (uint32_t i = 0; i < e->facts; i++) {
        bpi_text text = BPI_TEXT_EMPTY;
        bpi_fact_put(&text, p.prep, i);
        bool same = p.prep->fact[i].kind == kind && strcmp(text.s, says) == 0;
        bpi_text_release(&text);
        if (same)
            return i;
    }
    ck_abort_msg("no fact says: %s", says);
    return 0;
}

/* Every kind of fact: how it is said, by how much it may be loosened at most, and what is offered
 * for three minutes or pieces more, or a cook less to stand by; "": nothing. */
static const struct {
    bpi_fact_kind kind;
    const char *says;
    int32_t most;
    const char *change, *from, *to;
} rows[] = {
    {BPI_FACT_NONE, "the recipes and the running order themselves", 0, "", NULL, NULL},
    {BPI_FACT_CALL, "Ana can be called from 05:00", 360, "call Ana at 04:57", NULL, NULL},
    {BPI_FACT_CALL, "Ana can be called from 06:30", 30, "call Ana at 06:27", NULL, NULL},
    {BPI_FACT_WRAP, "Ana must be free at 06:00", 30, "keep Ana until 06:03", NULL, NULL},
    {BPI_FACT_WRAP, "Bo must be free at 10:00", 360, "keep Bo until 10:03", NULL, NULL},
    {BPI_FACT_REST, "Ana has a break from 07:00 to 07:15", 0, "", NULL, NULL},
    {BPI_FACT_COOK, "Bo does one thing at a time", 0, "", NULL, NULL},
    {BPI_FACT_SKILL, "only Ana has the skill \"pastry\"", 0, "", NULL, NULL},
    {BPI_FACT_SKILL, "only Ana and Bo have the skill \"fire\"", 0, "",
     "{\"id\": \"b\", \"name\": \"Bo\"",
     "{\"id\": \"c\", \"name\": \"Cy\", \"call\": \"05:00\", \"wrap\": \"10:00\"}, "
     "{\"id\": \"b\", \"name\": \"Bo\""},
    {BPI_FACT_BURNERS, "the kitchen has 1 burner", 4, "have 4 burners", NULL, NULL},
    {BPI_FACT_BURNERS, "the kitchen has 2 burners", 4, "have 5 burners", "\"burners\": 1",
     "\"burners\": 2"},
    {BPI_FACT_POSITIONS, "Deck takes 1 load at once", 4, "Deck would have to take 4 loads at once",
     NULL, NULL},
    {BPI_FACT_CHANGE, "Deck has one temperature at a time, and a change takes time", 0, "", NULL,
     NULL},
    {BPI_FACT_PREHEAT, "Deck has to be switched on and heated first", 0, "", NULL, NULL},
    {BPI_FACT_IDLE, "Deck may stand hot and empty for 20 min", 120,
     "let Deck stand hot and empty for 23 min", NULL, NULL},
    {BPI_FACT_TOOL, "the kitchen has 1 x mill", 4, "have 4 x mill", NULL, NULL},
    {BPI_FACT_TOOL, "the kitchen has 2 x pot (4 l)", 4, "have 5 x pot (4 l)", NULL, NULL},
    {BPI_FACT_WASH, "a pot is washed before it is used again, in 3 min 30 s", 0, "",
     "\"count\": 2}", "\"count\": 2, \"wash\": \"3 min 30 s\"}"},
    {BPI_FACT_WASH, "a pot is washed before it is used again, in 2 min (mill)", 0, "",
     "\"count\": 2}", "\"count\": 2, \"wash\": \"2 min\", \"wash_at\": \"mill\"}"},
    {BPI_FACT_PLACE, "there is room for 1 container hot", 4, "have room for 4 containers hot", NULL,
     NULL},
    {BPI_FACT_PLACE, "there is no place to keep anything cold", 4,
     "have room for 3 containers cold", NULL, NULL},
    {BPI_FACT_CIRCUIT, "circuit wall carries 16 A at 230 V, 3680 W", 3680,
     "circuit wall would have to carry 3683 W (ask the electrician)", "\"burners\": 1",
     "\"burners\": 1, \"circuits\": [{\"id\": \"wall\", \"amperes\": 16, \"volts\": 230}]"},
    {BPI_FACT_HOLD, "Pie, after \"Chop\", keeps 1 h on the counter", 240,
     "Pie, after \"Chop\", would have to keep 1 h 3 min on the counter", NULL, NULL},
    {BPI_FACT_HOLD, "Pie, after \"Bake\", keeps 30 min hot", 240,
     "Pie, after \"Bake\", would have to keep 33 min hot", NULL, NULL},
    {BPI_FACT_NO_HOLD, "Pie, after \"Glaze\", may not wait anywhere", 240,
     "Pie, after \"Glaze\", would have to keep 3 min on the counter", NULL, NULL},
    {BPI_FACT_HOLD_SET, "Pie, after \"Glaze\", keeps 1 h on the set", 240,
     "Pie, after \"Glaze\", would have to keep 1 h 3 min on the set", NULL, NULL},
    {BPI_FACT_HOLD_SET, "Pie, measured raw, keeps 4 h on the set",
     0, /* nothing in the file says it */
     "Pie, measured raw, would have to keep 4 h 3 min on the set", NULL, NULL},
    {BPI_FACT_WINDOW, "\"Stew\" must come off after 15 min to 18 min", 30,
     "leave \"Stew\" on up to 3 min longer", NULL, NULL},
    {BPI_FACT_WINDOW, "\"Bake\" must come off after 20 min", 30,
     "leave \"Bake\" on up to 3 min longer", NULL, NULL},
    {BPI_FACT_SET_BY,
     "the swap-outs of \"Pie\" must stand on the set by 07:52 (hit 08:00, lead 8 min)", 6,
     "dress \"Pie\" in 5 min", NULL, NULL},
    {BPI_FACT_SET_BY,
     "the swap-outs of \"Late\" must stand on the set by 08:55 (hit 09:00, lead 5 min)", 3,
     "dress \"Late\" in 2 min", NULL, NULL},
    {BPI_FACT_RESET, "after \"Early\" the set has to be cleared, which takes 10 min", 0, "", NULL,
     NULL},
    {BPI_FACT_HELP, "\"Chop\" takes two cooks at once", 0, "", "\"text\": \"Chop\",",
     "\"text\": \"Chop\", \"help\": {},"},
    {BPI_FACT_HELP, "\"Chop\" takes two cooks at once, the second with the skill \"pastry\"", 0, "",
     "\"text\": \"Chop\",", "\"text\": \"Chop\", \"help\": {\"skill\": \"pastry\"},"},
    {BPI_FACT_HANDS, "1 cook stands by on the set for \"Early\"", 1,
     "let no cook stand by on the set for \"Early\"", NULL, NULL},
    {BPI_FACT_HANDS, "2 cooks stand by on the set for \"Late\"", 2,
     "let only 1 cook stand by on the set for \"Late\"", NULL, NULL},
    {BPI_FACT_FLOAT, "\"Early\" may come 10 min later than its hit", 10,
     "let \"Early\" come at most 7 min later than its hit",
     "\"slot\":", "\"float\": \"10 min\", \"slot\":"},
    {BPI_FACT_FLOAT, "\"Early\" may come 2 min 30 s later than its hit", 3,
     "let \"Early\" come no later than its hit", "\"slot\":", "\"float\": \"150 s\", \"slot\":"},
    {BPI_FACT_DRESS, "the set of \"Early\" is dressed in this order: Pie, then all else", 360,
     "dress \"Early\" in any order", "\"slot\":", "\"dress\": [\"d\"], \"slot\":"},
};

START_TEST(each_fact_and_each_change_is_in_the_words_of_the_show)
{
    open_show(rows[_i].from, rows[_i].to);
    uint32_t fact = fact_said(rows[_i].kind, rows[_i].says);
    bpi_text change = BPI_TEXT_EMPTY;
    bpi_fact_put_change(&change, p.prep, fact, rows[_i].kind == BPI_FACT_HANDS ? 1 : 3);
    ck_assert_str_eq(change.s ? change.s : "", rows[_i].change);
    bpi_text_release(&change);
    ck_assert_int_eq(bpi_fact_most(p.prep, fact), rows[_i].most);
    if (bpi_fact_ease(rows[_i].kind) == BPI_EASE_NOT)
        ck_assert_int_eq(rows[_i].most, 0);
    int trouble = bpi_fact_trouble(rows[_i].kind);
    ck_assert(trouble >= 0 && trouble < BPI_FACT_TROUBLES);
    prep_show_release(&p);
}
END_TEST

Suite *suite_prep_fact(void);
Suite *suite_prep_fact(void)
{
    Suite *s = suite_create("prep_fact");
    TCase *c = tcase_create("words");
    tcase_add_loop_test(c, each_fact_and_each_change_is_in_the_words_of_the_show, 0,
                        sizeof rows / sizeof *rows);
    suite_add_tcase(s, c);
    return s;
}
