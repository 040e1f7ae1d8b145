/* src/model/allergen.h - the allergens that must be declared, by name.
 *
 * Owns     the table; a set of them is a bit set, bit i for row i.
 * May use  base/.
 */
#ifndef BP_MODEL_ALLERGEN_H
#define BP_MODEL_ALLERGEN_H

#include <stdbool.h>
#include <stdint.h>

#include "base/text.h"

typedef struct bpi_allergen {
    const char *name; /* as in a show file and on a label                          */
    const char *us;   /* section of US law that names it; NULL: none                */
    const char *eu;   /* point of Annex II to Regulation (EU) 1169/2011; NULL: none */
} bpi_allergen;

extern const bpi_allergen bpi_allergens[];
extern const uint32_t bpi_allergen_count;

/* Row of that very name; bpi_allergen_count: none. */
uint32_t bpi_allergen_find(const char *name);

/* Whose list is declared; where none is chosen, every name that an ingredient has. */
typedef enum bpi_law { BPI_LAW_ANY, BPI_LAW_US, BPI_LAW_EU } bpi_law;

/* Those that somebody who is allergic to `allergies` meets in `food`: who is allergic to cereals
 * containing gluten is so to wheat, too. */
uint32_t bpi_allergen_meet(uint32_t allergies, uint32_t food);

/* Append the names of those in a set that the law lists, in table order and in its words, "milk, wheat";
 * nothing where there are none. */
void bpi_allergen_put(bpi_text *out, uint32_t set, bpi_law law);

#endif
