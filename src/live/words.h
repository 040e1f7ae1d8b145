/* src/live/words.h - how long a text takes to say.
 *
 * Owns     nothing.
 * May use  base/utf8.
 * Units    whole seconds; pace in words a minute.
 */
#ifndef BP_LIVE_WORDS_H
#define BP_LIVE_WORDS_H

#include <stdint.h>

/* Words as they are spoken, in valid UTF-8:
 *   - blanks, dashes and hyphens part words ("slow-cooked" is two); an apostrophe does not;
 *   - in a number each digit counts as a word, and so does the point or colon inside it, but not a
 *     comma ("350": three hundred fifty; "1.5": one point five; "1,200": four);
 *   - a fraction sign, a percent, degree or currency sign and & + = each count as one;
 *   - of scripts written without blanks (Han, kana), two characters count as one word.
 * The counts of digits and characters are rules of thumb: common practice, no source. */
uint32_t bpi_words_count(const char *text);

/* Time to say them, rounded up; 0 for a text without words. `pace` is at least 1. */
int64_t bpi_words_time(const char *text, uint32_t pace);

#endif
