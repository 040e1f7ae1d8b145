#include "base/splice.h"

bp_code bpi_splice_apply(bpi_text *out, const char *text, size_t len, const bpi_splice *part,
                         size_t parts, bp_errors *errs)
{
    size_t at = 0;
    bpi_text made = BPI_TEXT_EMPTY;
    for (size_t i = 0; i < parts; i++) {
        if (part[i].from < at || part[i].to < part[i].from || part[i].to > len) {
            bpi_text_release(&made);
            return bpi_error_add(errs, BP_ERANGE, BPI_NOWHERE,
                                 "parts to be replaced lie in each other's way", "");
        }
        bpi_text_add(&made, text + at, part[i].from - at);
        bpi_text_add(&made, part[i].with, part[i].len);
        at = part[i].to;
    }
    bpi_text_add(&made, text + at, len - at);
    if (!made.failed && made.len) /* an empty text has no bytes to point to */
        bpi_text_add(out, made.s, made.len);
    bool failed = made.failed || out->failed;
    bpi_text_release(&made);
    return failed ? bpi_error_no_memory(errs) : BP_OK;
}
