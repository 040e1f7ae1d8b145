#include "live/words.h"

#include <stdbool.h>
#include <stddef.h>
#include <string.h>

#include "base/utf8.h"

typedef enum kind {
    GAP,    /* parts words */
    LETTER, /* makes a word with its neighbours */
    JOIN,   /* inside a word: apostrophe, combining mark */
    DIGIT,
    SIGN, /* a word by itself */
    DENSE /* half a word */
} kind;

/* Blocks of Unicode 15 (names from its Blocks.txt, from memory), in order; what is not listed is a
 * letter. */
static const struct {
    uint32_t first, last;
    kind kind;
} ranges[] = {
    {0x0000, 0x0022, GAP},     {0x0023, 0x0026, SIGN}, /* # $ % & */
    {0x0027, 0x0027, JOIN},    {0x0028, 0x002A, GAP},   {0x002B, 0x002B, SIGN},
    {0x002C, 0x002F, GAP},     {0x0030, 0x0039, DIGIT}, {0x003A, 0x003C, GAP},
    {0x003D, 0x003D, SIGN},    {0x003E, 0x003F, GAP},   {0x0040, 0x0040, SIGN},
    {0x005B, 0x0060, GAP},     {0x007B, 0x00A1, GAP},   {0x00A2, 0x00A5, SIGN}, /* cent to yen */
    {0x00A6, 0x00AC, GAP},     {0x00AD, 0x00AD, JOIN},                          /* soft hyphen */
    {0x00AE, 0x00AF, GAP},     {0x00B0, 0x00B1, SIGN}, /* degree, plus-minus */
    {0x00B4, 0x00B4, GAP},     {0x00B6, 0x00B8, GAP},   {0x00BB, 0x00BB, GAP},
    {0x00BC, 0x00BE, SIGN},                            /* quarter, half, three quarters */
    {0x00BF, 0x00BF, GAP},     {0x00D7, 0x00D7, SIGN}, /* times */
    {0x0300, 0x036F, JOIN},    {0x2000, 0x200B, GAP},   {0x200C, 0x200D, JOIN},
    {0x200E, 0x2018, GAP},     {0x2019, 0x2019, JOIN},  /* the printed apostrophe */
    {0x201A, 0x206F, GAP},     {0x20A0, 0x20CF, SIGN},  /* currencies */
    {0x2150, 0x215F, SIGN},                             /* fractions */
    {0x2190, 0x2BFF, GAP},                              /* arrows to symbols */
    {0x3000, 0x3040, GAP},     {0x3041, 0x30FF, DENSE}, /* kana */
    {0x3400, 0x9FFF, DENSE},                            /* Han */
    {0xF900, 0xFAFF, DENSE},   {0xFE00, 0xFE0F, JOIN},  /* variation selectors */
    {0xFF00, 0xFF0F, GAP},     {0x1F000, 0x1FAFF, GAP}, /* pictures */
    {0x20000, 0x3FFFF, DENSE},
};

static kind kind_of(uint32_t code)
{
    for (size_t i = 0; i < sizeof ranges / sizeof *ranges; i++)
        if (code <= ranges[i].last)
            return code >= ranges[i].first ? ranges[i].kind : LETTER;
    return LETTER;
}

static bool is_digit(char c)
{
    return c >= '0' && c <= '9';
}

uint32_t bpi_words_count(const char *text)
{
    size_t len = strlen(text);
    uint32_t words = 0, dense = 0;
    bool inside = false; /* a word */
    for (size_t i = 0; i < len;) {
        uint32_t code = 0;
        size_t step = bpi_utf8_step(text + i, len - i, &code);
        if (step == 0) {
            i++; /* not valid: as a gap */
            inside = false;
            continue;
        }
        switch (kind_of(code)) {
        case GAP:
            if ((code == '.' || code == ':') && i > 0 && is_digit(text[i - 1]) && i + 1 < len &&
                is_digit(text[i + 1]))
                words++; /* "one point five" */
            inside = false;
            break;
        case LETTER:
            words += !inside;
            inside = true;
            break;
        case JOIN:
            break;
        case DIGIT:
        case SIGN:
            words++;
            inside = false;
            break;
        case DENSE:
            dense++;
            inside = false;
            break;
        }
        i += step;
    }
    return words + (dense + 1) / 2;
}

int64_t bpi_words_time(const char *text, uint32_t pace)
{
    return ((int64_t)bpi_words_count(text) * 60 + pace - 1) / pace;
}
