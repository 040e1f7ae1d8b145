#include "cli/options.h"

#include <assert.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

#include "base/error.h"
#include "base/near.h"

typedef struct reader {
    bpi_args *out;
    const bpi_option *table;
    unsigned n;
    char **next, **end; /* words not read yet */
    bp_errors *errs;
    bp_code rc;
} reader;

#if defined(__GNUC__)
__attribute__((format(printf, 3, 4)))
#endif
static void
mistake(reader *r, const char *right, const char *format, ...)
{
    char wrong[160];
    va_list args;
    va_start(args, format);
    vsnprintf(wrong, sizeof wrong, format, args);
    va_end(args);
    r->rc = bpi_error_add(r->errs, BP_EVALUE, BPI_NOWHERE, wrong, right);
}

/* Row `row` was given; `value` is what stands behind it in the same word, or NULL. */
static void take(reader *r, unsigned row, const char *value)
{
    const bpi_option *o = &r->table[row];
    if (o->value && !value && r->next < r->end)
        value = *r->next++;
    if (o->value && (!value || !value[0])) {
        char right[80];
        snprintf(right, sizeof right, "write --%s %s", o->name, o->value);
        mistake(r, right, "option --%s lacks what follows it", o->name);
    } else if (!o->value && value) {
        mistake(r, "leave out the = and what follows it", "option --%s takes no value", o->name);
    } else if (r->out->value[row]) {
        mistake(r, "give it once", "option --%s is given twice", o->name);
    } else {
        r->out->value[row] = o->value ? value : "";
    }
}

static void read_long(reader *r, const char *name)
{
    size_t len = strcspn(name, "=");
    const char *value = name[len] ? name + len + 1 : NULL;
    if (len == strlen("help") && strncmp(name, "help", len) == 0 && !value) {
        r->out->help = true;
        return;
    }
    bpi_near near = bpi_near_to(name, len);
    bpi_near_offer(&near, "help");
    for (unsigned i = 0; i < r->n; i++) {
        if (strlen(r->table[i].name) == len && strncmp(r->table[i].name, name, len) == 0) {
            take(r, i, value);
            return;
        }
        bpi_near_offer(&near, r->table[i].name);
    }
    for (unsigned i = 0; i < r->n && !near.name && len > 1; i++)
        if (strncmp(r->table[i].name, name, len) == 0)
            near.name = r->table[i].name; /* cut short */
    char right[80] = "";
    if (near.name)
        snprintf(right, sizeof right, "write --%s", near.name);
    mistake(r, right, "option --%.*s is not known", len < 60 ? (int)len : 60, name);
}

static void read_letters(reader *r, const char *letters)
{
    for (; *letters; letters++) {
        if (*letters == 'h') {
            r->out->help = true;
            continue;
        }
        unsigned i = 0;
        while (i < r->n && r->table[i].letter != *letters)
            i++;
        if (i == r->n) {
            /* A letter outside ASCII is more than one byte: show the rest of the word. */
            mistake(r, "", "option -%.60s is not known", letters);
            return;
        }
        bool more = r->table[i].value && letters[1];
        take(r, i, more ? letters + 1 : NULL);
        if (r->table[i].value)
            return;
    }
}

bp_code bpi_args_read(bpi_args *out, const bpi_option *table, unsigned n, int argc, char **argv,
                      bp_errors *errs)
{
    assert(n <= BPI_MAX_OPTIONS);
    *out = (bpi_args){.operand = argv};
    reader r = {out, table, n, argv, argv + argc, errs, BP_OK};
    bool words_only = false;
    while (r.next < r.end) {
        char *word = *r.next++;
        if (words_only || word[0] != '-' || !word[1])
            out->operand[out->operands++] = word; /* never past the words already read */
        else if (strcmp(word, "--") == 0)
            words_only = true;
        else if (word[1] == '-')
            read_long(&r, word + 2);
        else
            read_letters(&r, word + 1);
    }
    return r.rc;
}

bp_code bpi_args_number(uint32_t *out, const bpi_args *args, const bpi_option *table, unsigned row,
                        uint32_t least, uint32_t most, bp_errors *errs)
{
    const char *text = args->value[row];
    if (!text)
        return BP_OK;
    uint64_t number = 0;
    size_t i = 0;
    for (; text[i] >= '0' && text[i] <= '9' && number <= UINT32_MAX; i++)
        number = number * 10 + (uint64_t)(text[i] - '0');
    if (i > 0 && !text[i] && number >= least && number <= most) {
        *out = (uint32_t)number;
        return BP_OK;
    }
    char right[80];
    snprintf(right, sizeof right, "write a whole number from %u to %u", (unsigned)least,
             (unsigned)most);
    return bpi_error_f(errs, BP_EVALUE, BPI_NOWHERE, right, "option --%s cannot be \"%.60s\"",
                       table[row].name, text);
}
