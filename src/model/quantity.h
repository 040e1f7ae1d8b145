/* src/model/quantity.h - amounts as people write them: "1 1/2 lb", "½ cup", "2 x 400 g can".
 *
 * Owns     the units that are known, and reading them. Arithmetic is goods/'s.
 * May use  base/.
 * Units    an amount is an exact fraction of its unit.
 */
#ifndef BP_MODEL_QUANTITY_H
#define BP_MODEL_QUANTITY_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "model/fault.h"

typedef enum bpi_dimension {
    BPI_NO_AMOUNT, /* "to taste", or absent */
    BPI_COUNT,     /* 3 eggs, 2 sprigs, 1 can */
    BPI_MASS,
    BPI_VOLUME
} bpi_dimension;

/* Bounds of a number in a quantity: kitchen amounts, and products that cannot overflow. */
#define BPI_MAX_AMOUNT 100000
#define BPI_MAX_DEN    10000
#define BPI_MAX_PACKS  1000

/* One known unit. Scale: how many micrograms (mass) or nanolitres (volume) it is, as an exact
 * fraction: num/den. Count units have no scale and add up only with their own kind. */
typedef struct bpi_unit {
    const char *name;   /* singular as printed: "cup"  */
    const char *plural; /* "cups"                      */
    bpi_dimension dimension;
    int64_t num, den;
    const char *source;
} bpi_unit;

extern const bpi_unit bpi_units[];
extern const uint32_t bpi_unit_count;

/* amount = num/den of unit; with packs above 0 it was written "packs x num/den unit [word]":
 * "2 x 400 g can". */
typedef struct bpi_quantity {
    bpi_dimension dimension;
    int64_t num, den; /* den >= 1                                       */
    uint32_t unit;    /* index into bpi_units; of BPI_COUNT too         */
    uint32_t packs;   /* 0: not written as packs                        */
    char word[24];    /* "can" of "2 x 400 g can"; a counting word not in the table; "" */
} bpi_quantity;

/* Read a quantity; "" is BPI_NO_AMOUNT. A mass or volume may have one counting word behind it
 * ("400 g can"), with packs or without. false: *f is filled in, *out unchanged. */
bool bpi_quantity_read(bpi_quantity *out, const char *text, size_t len, bpi_fault *f);

/* Read a plain number above 0, "1/2", "1 1/2", "½", "0.75", as a fraction in lowest terms. */
bool bpi_fraction_read(int64_t *num, int64_t *den, const char *text, size_t len, bpi_fault *f);

#endif
