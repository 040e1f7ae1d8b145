#include "live/words.h"

#include <check.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

static const struct {
    const char *name, *text;
    uint32_t words;
} counts[] = {
    {"nothing", "", 0},
    {"blanks only", " \t\n ", 0},
    {"punctuation only", "... - !", 0},
    {"one", "Stir", 1},
    {"a sentence", "Low heat, and let them go sweet.", 7},
    {"blanks around", "  two   words  ", 2},
    {"an apostrophe joins", "don't let it's lid slip", 5},
    {"a printed apostrophe joins", "don\u2019t stop", 2},
    {"a hyphen parts", "slow-cooked", 2},
    {"a dash parts", "wait \u2014 then stir\u2013gently", 4},
    {"a single digit", "5 minutes", 2},
    {"digits are spoken one by one, about", "350 degrees", 4},
    {"a thousands comma is not spoken", "1,200", 4},
    {"a decimal point is", "1.5 litres", 4},
    {"so is a clock's colon", "2:45", 4},
    {"a full stop after a number is not", "Add 2. Stir.", 3},
    {"nor is one at the end", "Add 2.", 2},
    {"a letter of no known script", "\U00100000\U00100001 is", 2},
    {"a percent sign is", "5% fat", 3},
    {"and a degree sign", "75\u00B0C", 4},
    {"and a fraction", "\u00BD cup", 2},
    {"accents are letters", "cr\u00E8me br\u00FBl\u00E9e", 2},
    {"a combining accent too", "cre\u0300me", 1},
    {"Cyrillic", "\u0441\u0443\u043F \u0433\u043E\u0442\u043E\u0432", 2},
    {"no-break blank parts", "two\u00A0words", 2},
    {"two kana or Han a word", "\u5869\u3092\u5C11\u3057", 2},
    {"an odd one counts up", "\u5869\u3092\u5C11", 2},
    {"an invalid byte parts", "ab\xFFzz", 2},
};

START_TEST(words_are_counted_as_spoken)
{
    ck_assert_msg(bpi_words_count(counts[_i].text) == counts[_i].words, "%s: %u words, not %u",
                  counts[_i].name, bpi_words_count(counts[_i].text), counts[_i].words);
}
END_TEST

/* Published speaking rates: `words` at `pace` words a minute take `seconds`. */
static const struct {
    const char *id;
    uint32_t pace, words;
    int64_t seconds;
    const char *source;
} rates[] = {
    /* 180 words a minute is 3 a second; a 20 s lead is 60 words, a 30 s story 90. */
    {"20-second lead", 180, 60, 20, "Broadcast Journalism (Focal Press), abstract on reading pace"},
    {"30-second story", 180, 90, 30,
     "Broadcast Journalism (Focal Press), abstract on reading pace"},
    {"three words a second", 180, 3, 1, "Broadcast Journalism (Focal Press), television scripting"},
    {"ten minutes at 150", 150, 1500, 600,
     "davidbrookstexas.com, How fast do you speak? (2009-02-28)"},
    /* 14 to 16 lines of ten words are about a minute: 140 to 160 words a minute. */
    {"14 lines of ten words", 140, 140, 60,
     "NAVEDTRA 14130 Journalist 3 & 2, Typing Copy and Timing"},
    {"16 lines of ten words", 160, 160, 60,
     "NAVEDTRA 14130 Journalist 3 & 2, Typing Copy and Timing"},
    {"one minute at the low end of public speaking", 125, 125, 60,
     "Lucas, The Art of Public Speaking, 8th ed. (2004) p. 300, as quoted"},
    {"one minute at the high end of public speaking", 150, 150, 60,
     "Lucas, The Art of Public Speaking, 8th ed. (2004) p. 300, as quoted"},
    /* Rate x time; whole words that just fit 20 s and 45 s, and one more that does not. */
    {"41 words at 125", 125, 41, 20, "computed: 41.67 words in 20 s"},
    {"42 words at 125", 125, 42, 21, "computed: 41.67 words in 20 s"},
    {"112 words at 150", 150, 112, 45, "computed: 112.5 words in 45 s"},
    {"113 words at 150", 150, 113, 46, "computed: 112.5 words in 45 s"},
    {"560 words at 160", 160, 560, 210, "computed: 560 words in 210 s"},
    {"630 words at 180", 180, 630, 210, "computed: 630 words in 210 s"},
    {"no words", 150, 0, 0, "nothing takes no time"},
};

START_TEST(published_rates_give_their_times)
{
    char text[2 * 1500 + 1];
    for (uint32_t i = 0; i < rates[_i].words; i++)
        memcpy(text + 2 * i, "a ", 2);
    text[2 * rates[_i].words] = '\0';
    ck_assert_uint_eq(bpi_words_count(text), rates[_i].words);
    ck_assert_msg(bpi_words_time(text, rates[_i].pace) == rates[_i].seconds, "%s (%s): %ld s",
                  rates[_i].id, rates[_i].source, (long)bpi_words_time(text, rates[_i].pace));
}
END_TEST

Suite *suite_live_words(void);
Suite *suite_live_words(void)
{
    Suite *s = suite_create("live/words");
    TCase *c = tcase_create("words");
    tcase_add_loop_test(c, words_are_counted_as_spoken, 0, sizeof counts / sizeof *counts);
    tcase_add_loop_test(c, published_rates_give_their_times, 0, sizeof rates / sizeof *rates);
    suite_add_tcase(s, c);
    return s;
}
