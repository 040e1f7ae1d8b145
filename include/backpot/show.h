/* backpot/show.h - reading a show file.
 *
 * A show is one production day: a kitchen, its crew, the segments on air and the recipes. It is one
 * JSON object (RFC 8259), described by the JSON Schema that bp_schema_text returns.
 */
#ifndef BP_SHOW_H
#define BP_SHOW_H

#include <limits.h>
#include <stddef.h>

#include "backpot/error.h"

#ifdef __cplusplus
extern "C" {
#endif

#define BP_SHOW_FORMAT                                                                             \
    1 /* version of a show file, which its "backpot" names; a newer one is refused */

typedef struct bp_show bp_show;

/* Read the show file at `path`, and the recipe files it names (relative to its own folder and
 * inside it).
 *
 * Owner   *out is new, release it with bp_show_free; set to NULL on failure.
 * Errors  all mistakes of the file in one go, each with its position: BP_ESYNTAX, BP_EVALUE,
 *         BP_ERANGE, BP_ELIMIT; BP_EIO where a file cannot be read; BP_ENOMEM. The first code is
 *         returned.
 */
bp_code bp_show_open(bp_show **out, const char *path, bp_errors *errs);

/* The same from memory. `name` stands for the file in messages; recipes named by a path are looked
 * for in `folder`, and are an error where it is NULL. */
bp_code bp_show_read(bp_show **out, const char *text, size_t len, const char *name,
                     const char *folder, bp_errors *errs);

void bp_show_free(bp_show *show); /* NULL does nothing */

/* JSON Schema 2020-12 of a show file; static text. */
const char *bp_schema_text(size_t *len);

#define BP_STARTER_NONE UINT_MAX /* no oven at all; cooks and burners it cannot do without */

/* What a starter show is filled with; zero or NULL members mean the defaults. */
typedef struct bp_starter {
    const char *title, *date, *zone, *hit, *slot;
    unsigned cooks, burners, ovens;
} bp_starter;

/* The defaults; static. */
const bp_starter *bp_starter_defaults(void);

/* Write a small, complete show that plans without change, as text to be saved.
 *
 * Owner   *out is new and ends in NUL; release it with bp_free.
 * Errors  BP_EVALUE where an answer is not usable (which, and what would be); BP_ENOMEM.
 */
bp_code bp_starter_write(char **out, size_t *len, const bp_starter *answers, bp_errors *errs);

/* Release a text the library handed out; NULL does nothing. */
void bp_free(void *text);

#ifdef __cplusplus
}
#endif
#endif
