#include "out/calendar.h"

#include <check.h>
#include <string.h>

#include "base/memory.h"
#include "base/zone.h"
#include "support/plan_sample.h"

static plan_sample sample;
static bp_errors errs;
static bpi_arena *arena;

static void set_up(void)
{
    plan_sample_fill_planned(&sample);
    errs.n = errs.more = 0;
    arena = bpi_arena_new();
}

static void tear_down(void)
{
    bpi_arena_free(arena);
    bpi_zone_release_all();
    ck_assert_int_eq(bpi_mem_alive(), 0);
}

static bpi_earlier read_back(const bpi_text *t)
{
    bpi_earlier e;
    bp_code rc = bpi_earlier_read(&e, arena, t->s, t->len, "prep.ics", sample.plan.show_id, &errs);
    ck_assert_msg(rc == BP_OK, "%u: %s", errs.item[0].line, errs.item[0].wrong);
    return e;
}

static bpi_text write_first(const char *cook)
{
    bpi_text t = BPI_TEXT_EMPTY;
    bpi_earlier none = {.cooks = ""};
    ck_assert_int_eq(bpi_calendar_write(&t, &sample.plan, cook, &none, "ines rui", &errs), BP_OK);
    return t;
}

/* The calendar of the plan as it is now, after one that stands in `before`. */
static bpi_text write_after(const char *cook, const bpi_text *before)
{
    bpi_earlier e = read_back(before);
    bpi_text t = BPI_TEXT_EMPTY;
    ck_assert_int_eq(bpi_calendar_write(&t, &sample.plan, cook, &e, "ines rui", &errs), BP_OK);
    return t;
}

static uint32_t count(const char *s, const char *what)
{
    uint32_t n = 0;
    for (; (s = strstr(s, what)) != NULL; s += strlen(what))
        n++;
    return n;
}

/* The event whose summary begins so, as its own text; "" where there is none. */
static bpi_text event_of(const bpi_text *t, const char *summary)
{
    bpi_text want = BPI_TEXT_EMPTY, found = BPI_TEXT_EMPTY;
    bpi_text_f(&want, "\r\nSUMMARY:%s", summary);
    const char *at = strstr(t->s, want.s);
    if (at) {
        const char *begin = NULL, *end = strstr(at, "END:VEVENT\r\n");
        for (const char *s = t->s; (s = strstr(s, "BEGIN:VEVENT")) != NULL && s < at; s++)
            begin = s;
        ck_assert(begin && end);
        bpi_text_add(&found, begin, (size_t)(end - begin) + 12);
    } else {
        bpi_text_put(&found, "");
    }
    bpi_text_release(&want);
    return found;
}

static void has(const bpi_text *event, const char *line)
{
    ck_assert_msg(strstr(event->s, line) != NULL, "no \"%s\" in\n%s", line, event->s);
}

START_TEST(the_kitchen_gets_every_appearance_hands_on_and_unattended_operation)
{
    uint32_t by_hand = 0, unattended = 0;
    for (uint32_t i = 0; i < sample.plan.ops; i++) {
        const bp_op *op = &sample.plan.op[i];
        by_hand += op->person != BP_NO_INDEX;
        unattended += op->kind == BP_OP_PASSIVE || op->kind == BP_OP_OVEN;
    }
    ck_assert_uint_gt(unattended, 5);
    bpi_text t = write_first(NULL);
    ck_assert_uint_eq(count(t.s, "BEGIN:VEVENT"), sample.plan.airs + by_hand + unattended);
    ck_assert_uint_eq(count(t.s, "BEGIN:VALARM"), sample.plan.airs + by_hand);
    ck_assert_uint_eq(count(t.s, "TRIGGER:-PT5M\r\n"), sample.plan.airs + by_hand);
    ck_assert_uint_eq(count(t.s, "TRANSP:TRANSPARENT"), unattended);
    ck_assert_uint_eq(count(t.s, "BEGIN:VTIMEZONE"), 1);
    ck_assert_uint_eq(count(t.s, "TZID:Europe/Lisbon\r\n"), 1);
    ck_assert_uint_eq(count(t.s, "SEQUENCE:0\r\n"), count(t.s, "BEGIN:VEVENT"));
    bpi_text_release(&t);
}
END_TEST

START_TEST(a_cook_gets_what_that_cook_does_and_the_appearances)
{
    uint32_t sum = 0;
    for (uint32_t p = 0; p < sample.plan.persons; p++) {
        uint32_t own = 0;
        for (uint32_t i = 0; i < sample.plan.ops; i++)
            own += sample.plan.op[i].person == p;
        bpi_text t = write_first(sample.plan.person[p].id);
        ck_assert_uint_eq(count(t.s, "BEGIN:VEVENT"), sample.plan.airs + own);
        bpi_text_release(&t);
        sum += own;
    }
    ck_assert_uint_gt(sum, 40);
}
END_TEST

START_TEST(an_event_says_what_a_cook_needs)
{
    bpi_text t = write_first(NULL);
    bpi_text e = event_of(&t, "A4 Add lentils and stock\\, simmer");
    has(&e, "DTSTART;TZID=Europe/Lisbon:20261203T070500\r\n");
    has(&e, "DTEND;TZID=Europe/Lisbon:20261203T072100\r\n");
    has(&e, "DTSTAMP:20261203T000000Z\r\n");
    has(&e, "LAST-MODIFIED:20261203T000000Z\r\n");
    has(&e, "CATEGORIES:passive\r\n");
    has(&e, "LOCATION:burners\r\n");
    has(&e, "Core: 74 C");
    has(&e, "Done from 07:20 to 07:23");
    bpi_text_release(&e);
    e = event_of(&t, "ON AIR Dois pratos");
    has(&e, "DTSTART;TZID=Europe/Lisbon:20261203T082400\r\n");
    has(&e, "DTEND;TZID=Europe/Lisbon:20261203T082825\r\n");
    bpi_text_release(&e);
    /* The container stands in the text already. */
    e = event_of(&t, "Carry B4 to the set");
    has(&e, "CATEGORIES:carry\r\n");
    bpi_text_release(&e);
    bpi_text_release(&t);
}
END_TEST

START_TEST(a_second_run_changes_no_byte)
{
    static const char *const cooks[] = {NULL, "ines", "rui", "marta"};
    for (size_t i = 0; i < sizeof cooks / sizeof *cooks; i++) {
        bpi_text first = write_first(cooks[i]), second = write_after(cooks[i], &first);
        ck_assert_str_eq(first.s, second.s);
        bpi_text_release(&first);
        bpi_text_release(&second);
    }
}
END_TEST

/* The operation of that text, for a test to change. */
static bp_op *op_of(const char *key_end)
{
    for (uint32_t i = 0; i < sample.plan.ops; i++) {
        const char *key = sample.op[i].key;
        size_t n = strlen(key), m = strlen(key_end);
        if (n >= m && strcmp(key + n - m, key_end) == 0)
            return &sample.op[i];
    }
    ck_abort_msg("no operation %s", key_end);
    return NULL;
}

START_TEST(only_a_changed_event_gets_the_next_sequence)
{
    bpi_text first = write_first(NULL);
    bp_op *op = op_of("chop");
    op->to += 60;
    bpi_text second = write_after(NULL, &first);
    bpi_text e = event_of(&second, "A1 A2 A3 A4 A5 Dice");
    has(&e, "SEQUENCE:1\r\n");
    has(&e, "DTSTAMP:20261203T000001Z\r\n");
    ck_assert_uint_eq(count(second.s, "SEQUENCE:1\r\n"), 1);
    ck_assert_uint_eq(count(second.s, "BEGIN:VEVENT"), count(first.s, "BEGIN:VEVENT"));
    bpi_text third = write_after(NULL, &second);
    ck_assert_str_eq(second.s, third.s);
    op->to -= 60; /* changing it back is a change as well */
    bpi_text fourth = write_after(NULL, &third);
    ck_assert_uint_eq(count(fourth.s, "SEQUENCE:2\r\n"), 1);
    ck_assert_uint_eq(count(fourth.s, "SEQUENCE:1\r\n"), 0);
    bpi_text_release(&e);
    bpi_text_release(&first);
    bpi_text_release(&second);
    bpi_text_release(&third);
    bpi_text_release(&fourth);
}
END_TEST

START_TEST(what_is_gone_is_cancelled_once_and_stays_so)
{
    bpi_text first = write_first("ines");
    bp_op *op = op_of("chop");
    uint32_t before = op->person;
    op->person = BP_NO_INDEX; /* somebody else's, or nobody's */
    bpi_text second = write_after("ines", &first);
    ck_assert_uint_eq(count(second.s, "STATUS:CANCELLED\r\n"), 1);
    bpi_text e = event_of(&second, "Cancelled: A1 A2 A3 A4 A5 Dice");
    has(&e, "SEQUENCE:1\r\n");
    has(&e, "DTSTART:20261203T064000Z\r\n");
    has(&e, "DTEND:20261203T070000Z\r\n");
    has(&e, "STATUS:CANCELLED\r\n");
    ck_assert_ptr_null(strstr(e.s, "VALARM"));
    bpi_text third = write_after("ines", &second);
    ck_assert_str_eq(second.s, third.s);
    op->person = before; /* it comes back with a higher SEQUENCE than the cancellation had */
    bpi_text fourth = write_after("ines", &third);
    ck_assert_uint_eq(count(fourth.s, "STATUS:CANCELLED\r\n"), 0);
    bpi_text back = event_of(&fourth, "A1 A2 A3 A4 A5 Dice");
    has(&back, "SEQUENCE:2\r\n");
    bpi_text_release(&e);
    bpi_text_release(&back);
    bpi_text_release(&first);
    bpi_text_release(&second);
    bpi_text_release(&third);
    bpi_text_release(&fourth);
}
END_TEST

START_TEST(a_cook_who_left_gets_everything_cancelled)
{
    bpi_text first = write_first("rui");
    for (uint32_t i = 0; i < sample.plan.ops; i++)
        if (sample.op[i].person == 1)
            sample.op[i].person = 0;
    bpi_text second = write_after("rui", &first);
    ck_assert_uint_eq(count(second.s, "STATUS:CANCELLED"), count(first.s, "BEGIN:VEVENT"));
    ck_assert_uint_eq(count(second.s, "SUMMARY:Cancelled: "), count(first.s, "BEGIN:VEVENT"));
    ck_assert_uint_eq(count(second.s, "VTIMEZONE"), 0);
    bpi_text third = write_after("rui", &second);
    ck_assert_str_eq(second.s, third.s);
    bpi_text_release(&first);
    bpi_text_release(&second);
    bpi_text_release(&third);
}
END_TEST

START_TEST(an_operation_has_a_uid_of_its_own_in_each_file)
{
    bpi_text kitchen = write_first(NULL), ines = write_first("ines");
    bpi_earlier a = read_back(&kitchen), b = read_back(&ines);
    for (uint32_t i = 0; i < b.events; i++)
        ck_assert_ptr_null(bpi_earlier_find(&a, b.event[i].uid));
    ck_assert_str_eq(a.cooks, "ines rui");
    bpi_text_release(&kitchen);
    bpi_text_release(&ines);
}
END_TEST

/* uuid.uuid5(uuid.uuid5(uuid.NAMESPACE_DNS, "backpot.invalid"),
 *            "ribeira-morning/prep.ics/on-air:main"), worked out by Python 3.11. */
START_TEST(a_uid_is_the_one_that_rfc_9562_version_5_gives)
{
    bpi_text t = write_first(NULL);
    bpi_text e = event_of(&t, "ON AIR Dois pratos");
    has(&e, "UID:b4eeb70d-fcb2-5804-b3cc-f063ea4fb1cc\r\n");
    bpi_text_release(&e);
    bpi_text_release(&t);
}
END_TEST

/* Lisbon, 2026-03-29 and 2026-10-25 (tzdata): both clock changes at 01:00 UTC. Events from a day
 * before to a day after stand in UTC form, the others in the zone. */
static const struct {
    const char *name;
    int month, day;
    int64_t midnight;
    uint32_t local; /* lines that name the zone */
} changes[] = {
    {"the day of the gap", 3, 29, 1774742400, 0},
    {"the day of the doubled hour", 10, 25, 1792882800, 0},
    {"two days before the gap", 3, 27, 1774569600, 1},
    {"three days after the doubled hour", 10, 28, 1793145600, 1},
};

START_TEST(near_a_clock_change_events_stand_in_utc)
{
    sample.plan.month = changes[_i].month;
    sample.plan.day = changes[_i].day;
    sample.plan.midnight = changes[_i].midnight;
    bpi_text t = write_first(NULL);
    uint32_t events = count(t.s, "BEGIN:VEVENT"), local = count(t.s, "DTSTART;TZID=Europe/Lisbon:");
    ck_assert_msg(local == (changes[_i].local ? events : 0), "%s: %u of %u", changes[_i].name,
                  local, events);
    ck_assert_uint_eq(count(t.s, "BEGIN:VTIMEZONE"), changes[_i].local);
    bpi_text again = write_after(NULL, &t);
    ck_assert_str_eq(t.s, again.s);
    bpi_text_release(&t);
    bpi_text_release(&again);
}
END_TEST

START_TEST(utc_needs_no_zone)
{
    sample.plan.zone = "UTC";
    bpi_text t = write_first(NULL);
    ck_assert_uint_eq(count(t.s, "TZID"), 0);
    bpi_text_release(&t);
}
END_TEST

START_TEST(awkward_texts_come_back_whole)
{
    bp_op *op = op_of("chop");
    op->text = "  Dice; \"slow\", back\\slash: ½ \xE2\x80\xAE done\t ";
    op->detail = "a, b; c\\n\n\n  d  ";
    op->caution = "";
    bpi_text first = write_first(NULL), second = write_after(NULL, &first);
    ck_assert_str_eq(first.s, second.s);
    has(&first, "SUMMARY:A1 A2 A3 A4 A5 Dice\\; \"slow\"\\, back\\\\slash: ½  done\r\n");
    op->person = BP_NO_INDEX;
    bpi_text third = write_after(NULL, &second), fourth = write_after(NULL, &third);
    has(&third, "SUMMARY:Cancelled: A1 A2 A3 A4 A5 Dice\\; \"slow\"\\, back\\\\slash: ½  done\r\n");
    ck_assert_str_eq(third.s, fourth.s);
    bpi_text_release(&first);
    bpi_text_release(&second);
    bpi_text_release(&third);
    bpi_text_release(&fourth);
}
END_TEST

/* ---- files that are not ours, or damaged ------------------------------------------------- */

#define HEAD                                                                                       \
    "BEGIN:VCALENDAR\r\nVERSION:2.0\r\nPRODID:" BPI_CALENDAR_PRODID "\r\nX-BACKPOT-SHOW:"          \
    "ribeira-morning\r\n"
#define UID   "UID:0b7b8f0e-1111-5222-8333-444455556666\r\n"
#define EVENT "BEGIN:VEVENT\r\n" UID "SEQUENCE:3\r\nSUMMARY:x\r\nEND:VEVENT\r\n"
#define TAIL  "END:VCALENDAR\r\n"

static const struct {
    const char *name, *text;
    uint32_t line;
    const char *wrong;
} broken[] = {
    {"empty", "", 0, "no calendar"},
    {"a note somebody wrote", "buy milk\r\n", 1, "no calendar"},
    {"line feeds only", "BEGIN:VCALENDAR\n", 1, "CR LF"},
    {"an empty line", HEAD "\r\n" TAIL, 5, "empty or longer"},
    {"another program's", "BEGIN:VCALENDAR\r\nPRODID:-//other//EN\r\n" TAIL, 2, "not written by"},
    {"a later version's", "BEGIN:VCALENDAR\r\nPRODID:-//backpot//prep calendar 2//EN\r\n" TAIL, 2,
     "another version"},
    {"no PRODID", "BEGIN:VCALENDAR\r\nX-BACKPOT-SHOW:ribeira-morning\r\n" EVENT TAIL, 3,
     "not written by"},
    {"another show's",
     "BEGIN:VCALENDAR\r\nPRODID:" BPI_CALENDAR_PRODID "\r\nX-BACKPOT-SHOW:evening\r\n" TAIL, 3,
     "another show"},
    {"cut short", HEAD EVENT, 9, "ends before"},
    {"cut in an event", HEAD "BEGIN:VEVENT\r\n" UID, 6, "ends inside an event"},
    {"cut in a line", HEAD "BEGIN:VEV", 5, "CR LF"},
    {"cut in a zone", HEAD "BEGIN:VTIMEZONE\r\n", 5, "inside a component"},
    {"more behind it", HEAD EVENT TAIL "BEGIN:VCALENDAR\r\n", 10, "follows the end"},
    {"an event twice", HEAD EVENT EVENT TAIL, 14, "twice"},
    {"a UID of another kind", HEAD "BEGIN:VEVENT\r\nUID:1@host\r\nEND:VEVENT\r\n" TAIL, 6,
     "none of ours"},
    {"no SEQUENCE", HEAD "BEGIN:VEVENT\r\n" UID "END:VEVENT\r\n" TAIL, 7, "no UID or no SEQUENCE"},
    {"SEQUENCE no number", HEAD "BEGIN:VEVENT\r\n" UID "SEQUENCE:-1\r\nEND:VEVENT\r\n" TAIL, 7,
     "no usable number"},
    {"SEQUENCE too large",
     HEAD "BEGIN:VEVENT\r\n" UID "SEQUENCE:99999999999\r\nEND:VEVENT\r\n" TAIL, 7,
     "no usable number"},
    {"an alarm that does not end", HEAD "BEGIN:VEVENT\r\n" UID "BEGIN:VALARM\r\nEND:VEVENT\r\n", 8,
     "nested"},
    {"a to-do in an event", HEAD "BEGIN:VEVENT\r\nBEGIN:VTODO\r\n", 6, "nested"},
    {"a control character",
     HEAD "NAME:a\x01"
          "b\r\n" TAIL,
     5, "a byte that no text has"},
    {"a byte that is no UTF-8", HEAD "NAME:a\xFF\r\n" TAIL, 5, "a byte that no text has"},
    {"76 bytes",
     HEAD "NAME:aaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaa\r\n" TAIL,
     5, "longer than 75"},
};

/* Found by make fuzz: libical folds between CR and LF where a line has no blank to fold at. */
START_TEST(a_line_of_any_length_without_a_blank_is_folded_between_characters)
{
    char title[200];
    for (int n = 1; n < 180; n++) {
        memset(title, 'x', (size_t)n);
        title[n] = '\0';
        sample.plan.title = title;
        for (uint32_t i = 0; i < sample.plan.airs; i++)
            sample.air[i].title = title;
        bpi_text t = write_first(NULL);
        bpi_earlier e = read_back(&t);
        ck_assert_uint_gt(e.events, 0);
        ck_assert_ptr_null(strstr(t.s, "\r\r"));
        bpi_text_release(&t);
    }
}
END_TEST

START_TEST(a_file_that_is_not_ours_is_refused_with_its_line)
{
    bpi_earlier e;
    bp_code rc = bpi_earlier_read(&e, arena, broken[_i].text, strlen(broken[_i].text), "prep.ics",
                                  "ribeira-morning", &errs);
    ck_assert_msg(rc == BP_EIO, "%s: %d", broken[_i].name, rc);
    ck_assert_uint_eq(errs.n, 1);
    ck_assert_msg(errs.item[0].line == broken[_i].line, "%s: line %u", broken[_i].name,
                  errs.item[0].line);
    ck_assert_msg(strstr(errs.item[0].wrong, broken[_i].wrong) != NULL, "%s: %s", broken[_i].name,
                  errs.item[0].wrong);
    ck_assert(errs.item[0].right[0] != '\0');
    ck_assert_uint_eq(e.events, 0);
}
END_TEST

START_TEST(a_whole_one_is_read)
{
    bpi_earlier e;
    static const char text[] = HEAD "X-BACKPOT-COOKS:ines r\r\n ui\r\n" EVENT TAIL;
    ck_assert_int_eq(
        bpi_earlier_read(&e, arena, text, sizeof text - 1, "prep.ics", "ribeira-morning", &errs),
        BP_OK);
    ck_assert_uint_eq(e.events, 1);
    ck_assert_int_eq(e.event[0].sequence, 3);
    ck_assert_str_eq(e.cooks, "ines rui");
    ck_assert_uint_eq(e.event[0].len, strlen(EVENT));
}
END_TEST

/* What is gone has to be understood to be cancelled: times of a zone that does not exist are not. */
START_TEST(an_event_without_a_usable_time_cannot_be_cancelled)
{
    static const char *const starts[] = {"", "DTSTART:20261341T256199Z\r\n",
                                         "DTSTART;TZID=Nowhere/Land:20261203T080000\r\n"};
    for (size_t i = 0; i < sizeof starts / sizeof *starts; i++) {
        bpi_text text = BPI_TEXT_EMPTY, out = BPI_TEXT_EMPTY;
        bpi_text_f(&text,
                   HEAD "BEGIN:VEVENT\r\n" UID "SEQUENCE:0\r\nSUMMARY:x\r\n%sEND:VEVENT\r\n" TAIL,
                   starts[i]);
        bpi_earlier e = read_back(&text);
        errs.n = 0;
        ck_assert_int_eq(bpi_calendar_write(&out, &sample.plan, NULL, &e, "", &errs), BP_EIO);
        ck_assert_uint_eq(errs.n, 1);
        bpi_text_release(&text);
        bpi_text_release(&out);
    }
}
END_TEST

START_TEST(years_without_known_clock_changes_are_refused)
{
    bpi_text t = BPI_TEXT_EMPTY;
    bpi_earlier none = {.cooks = ""};
    sample.plan.year = 2038;
    ck_assert_int_eq(bpi_calendar_write(&t, &sample.plan, NULL, &none, "", &errs), BP_ERANGE);
    sample.plan.year = 2026;
    sample.plan.zone = "Nowhere/Land";
    ck_assert_int_eq(bpi_calendar_write(&t, &sample.plan, NULL, &none, "", &errs), BP_EVALUE);
    bpi_text_release(&t);
}
END_TEST

START_TEST(file_names_suit_every_file_system)
{
    char name[BPI_CALENDAR_ROOM], other[BPI_CALENDAR_ROOM];
    ck_assert_str_eq(bpi_calendar_file(name, NULL), "prep.ics");
    ck_assert_str_eq(bpi_calendar_file(name, "ines-2"), "prep-ines-2.ics");
    bpi_calendar_file(name, "../../Ana");
    ck_assert(strncmp(name, "prep-", 5) == 0 && !strpbrk(name, "/\\ ") && !strstr(name, ".."));
    bpi_calendar_file(other, ".././Ana/");
    ck_assert_str_ne(name, other);
    bpi_calendar_file(name, "a-very-long-identifier-that-goes-on-and-on-and-on-without-an-end");
    ck_assert_uint_lt(strlen(name), BPI_CALENDAR_ROOM - 1);
}
END_TEST

START_TEST(cooks_with_work_and_those_from_before_get_a_calendar)
{
    ck_assert_str_eq(bpi_calendar_cooks(arena, &sample.plan, ""), "ines rui marta");
    ck_assert_str_eq(bpi_calendar_cooks(arena, &sample.plan, "old rui in"),
                     "ines rui marta old in");
    for (uint32_t i = 0; i < sample.plan.ops; i++)
        if (sample.op[i].person == 1)
            sample.op[i].person = 0;
    ck_assert_str_eq(bpi_calendar_cooks(arena, &sample.plan, ""), "ines marta");
    ck_assert_str_eq(bpi_calendar_cooks(arena, &sample.plan, "rui"), "ines rui marta");
}
END_TEST

START_TEST(every_request_fails_once)
{
    bpi_text first = write_first("marta");
    sample.op[3].text = "changed";
    op_of("sweat")->person = BP_NO_INDEX;
    long alive = bpi_mem_alive();
    bool fired = true;
    for (long k = 0; fired; k++) {
        bpi_text t = BPI_TEXT_EMPTY;
        bpi_earlier e;
        errs.n = errs.more = 0;
        bpi_mem_fail_at(k, 0);
        bpi_arena *a = bpi_arena_new();
        bp_code rc = a ? bpi_earlier_read(&e, a, first.s, first.len, "x", "ribeira-morning", &errs)
                       : BP_ENOMEM;
        if (rc == BP_OK)
            rc = bpi_calendar_write(&t, &sample.plan, "marta", &e, "", &errs);
        fired = bpi_mem_failed();
        bpi_mem_fail_at(-1, 0);
        ck_assert_int_eq(rc, fired ? BP_ENOMEM : BP_OK);
        bpi_text_release(&t);
        bpi_arena_free(a);
        ck_assert_int_eq(bpi_mem_alive(), alive);
    }
    bpi_text_release(&first);
}
END_TEST

Suite *suite_out_calendar(void);
Suite *suite_out_calendar(void)
{
    Suite *s = suite_create("out/calendar");
    TCase *c = tcase_create("calendar");
    tcase_add_checked_fixture(c, set_up, tear_down);
    tcase_add_test(c, the_kitchen_gets_every_appearance_hands_on_and_unattended_operation);
    tcase_add_test(c, a_cook_gets_what_that_cook_does_and_the_appearances);
    tcase_add_test(c, an_event_says_what_a_cook_needs);
    tcase_add_test(c, a_second_run_changes_no_byte);
    tcase_add_test(c, only_a_changed_event_gets_the_next_sequence);
    tcase_add_test(c, what_is_gone_is_cancelled_once_and_stays_so);
    tcase_add_test(c, a_cook_who_left_gets_everything_cancelled);
    tcase_add_test(c, an_operation_has_a_uid_of_its_own_in_each_file);
    tcase_add_test(c, a_uid_is_the_one_that_rfc_9562_version_5_gives);
    tcase_add_loop_test(c, near_a_clock_change_events_stand_in_utc, 0,
                        sizeof changes / sizeof *changes);
    tcase_add_test(c, utc_needs_no_zone);
    tcase_add_test(c, awkward_texts_come_back_whole);
    tcase_add_loop_test(c, a_file_that_is_not_ours_is_refused_with_its_line, 0,
                        sizeof broken / sizeof *broken);
    tcase_add_test(c, a_whole_one_is_read);
    tcase_add_test(c, a_line_of_any_length_without_a_blank_is_folded_between_characters);
    tcase_add_test(c, an_event_without_a_usable_time_cannot_be_cancelled);
    tcase_add_test(c, years_without_known_clock_changes_are_refused);
    tcase_add_test(c, file_names_suit_every_file_system);
    tcase_add_test(c, cooks_with_work_and_those_from_before_get_a_calendar);
    tcase_add_test(c, every_request_fails_once);
    suite_add_tcase(s, c);
    return s;
}
