#include "cli/message.h"

#include <stdarg.h>
#include <string.h>

#include "base/text.h"
#include "base/utf8.h"

void bpi_message_line(FILE *to, const char *text)
{
    bpi_text plain = BPI_TEXT_EMPTY;
    bpi_utf8_plain(&plain, text, strlen(text));
    /* Without memory for the plain form, say that much. */
    fprintf(to, "%s\n", plain.failed ? "out of memory" : plain.s ? plain.s : "");
    bpi_text_release(&plain);
}

void bpi_message(const char *format, ...)
{
    char line[1024];
    va_list args;
    va_start(args, format);
    vsnprintf(line, sizeof line, format, args);
    va_end(args);
    fputs("backpot: ", stderr);
    bpi_message_line(stderr, line);
}

static void print(const char *head, const bp_errors *errs)
{
    for (uint32_t i = 0; i < errs->n; i++) {
        char line[1024];
        bp_error_text(line, sizeof line, &errs->item[i]);
        fputs(head, stderr);
        bpi_message_line(stderr, line);
    }
    if (errs->more)
        fprintf(stderr, "%sand %u more\n", head, (unsigned)errs->more);
}

void bpi_message_errors(const bp_errors *errs)
{
    print("", errs);
}

bpi_exit bpi_message_usage(const bp_errors *errs, const char *command)
{
    print("backpot: ", errs);
    fprintf(stderr, "backpot: see backpot help%s%s\n", command ? " " : "", command ? command : "");
    return BPI_EXIT_USAGE;
}

bpi_exit bpi_message_exit(bp_code code)
{
    switch (code) {
    case BP_OK:
        return BPI_EXIT_DONE;
    case BP_ESYNTAX:
    case BP_EVALUE:
    case BP_ERANGE:
    case BP_ELIMIT:
        return BPI_EXIT_SHOW;
    case BP_ENOFIT:
        return BPI_EXIT_NO_PLAN;
    case BP_EUNSAFE:
        return BPI_EXIT_UNSAFE;
    case BP_EUNSURE:
        return BPI_EXIT_UNSURE;
    case BP_EIO:
    case BP_ENOMEM:
        return BPI_EXIT_FILE;
    case BP_EINTERNAL:
    case BP_NCODES:
        break;
    }
    return BPI_EXIT_INTERNAL;
}
