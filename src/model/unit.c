/* src/model/unit.c - the known units.
 *
 * Owns     the units of model/quantity.h, with what each is worth.
 * May use  nothing.
 */
#include "model/quantity.h"

/* Exact by definition: 1 lb = 453.592 37 g; 1 gal = 231 cubic inches of (2.54 cm) cubed =
 * 3785.411 784 ml. NIST Handbook 44 Appendix C and NIST SP 811 Appendix B give both; a quart, pint,
 * cup, fluid ounce, tablespoon and teaspoon are 1/4, 1/8, 1/16, 1/128, 1/256 and 1/768 of a gallon.
 * So a "cup" is the US customary cup, 236.588 236 5 ml, not the 240 ml of a food label. */
#define SI   "SI Brochure (BIPM), litre and gram"
#define HB44 "NIST Handbook 44 App. C; NIST SP 811 App. B"
#define WORD "a counting word; common practice, no source"

const bpi_unit bpi_units[] = {
    {"", "", BPI_COUNT, 0, 1, WORD}, /* pieces: "3" */
    {"mg", "mg", BPI_MASS, 1000, 1, SI},
    {"g", "g", BPI_MASS, 1000000, 1, SI},
    {"kg", "kg", BPI_MASS, 1000000000, 1, SI},
    {"oz", "oz", BPI_MASS, 226796185, 8, HB44},
    {"lb", "lb", BPI_MASS, 453592370, 1, HB44},
    {"ml", "ml", BPI_VOLUME, 1000000, 1, SI},
    {"cl", "cl", BPI_VOLUME, 10000000, 1, SI},
    {"dl", "dl", BPI_VOLUME, 100000000, 1, SI},
    {"l", "l", BPI_VOLUME, 1000000000, 1, SI},
    {"tsp", "tsp", BPI_VOLUME, 157725491, 32, HB44},
    {"tbsp", "tbsp", BPI_VOLUME, 473176473, 32, HB44},
    {"fl oz", "fl oz", BPI_VOLUME, 473176473, 16, HB44},
    {"cup", "cups", BPI_VOLUME, 473176473, 2, HB44},
    {"pint", "pints", BPI_VOLUME, 473176473, 1, HB44},
    {"quart", "quarts", BPI_VOLUME, 946352946, 1, HB44},
    {"gallon", "gallons", BPI_VOLUME, 3785411784, 1, HB44},
    {"bag", "bags", BPI_COUNT, 0, 1, WORD},
    {"bottle", "bottles", BPI_COUNT, 0, 1, WORD},
    {"bunch", "bunches", BPI_COUNT, 0, 1, WORD},
    {"can", "cans", BPI_COUNT, 0, 1, WORD},
    {"clove", "cloves", BPI_COUNT, 0, 1, WORD},
    {"dash", "dashes", BPI_COUNT, 0, 1, WORD},
    {"egg", "eggs", BPI_COUNT, 0, 1, WORD},
    {"handful", "handfuls", BPI_COUNT, 0, 1, WORD},
    {"head", "heads", BPI_COUNT, 0, 1, WORD},
    {"jar", "jars", BPI_COUNT, 0, 1, WORD},
    {"leaf", "leaves", BPI_COUNT, 0, 1, WORD},
    {"packet", "packets", BPI_COUNT, 0, 1, WORD},
    {"pinch", "pinches", BPI_COUNT, 0, 1, WORD},
    {"sheet", "sheets", BPI_COUNT, 0, 1, WORD},
    {"slice", "slices", BPI_COUNT, 0, 1, WORD},
    {"sprig", "sprigs", BPI_COUNT, 0, 1, WORD},
    {"stalk", "stalks", BPI_COUNT, 0, 1, WORD},
    {"stick", "sticks", BPI_COUNT, 0, 1, WORD},
    {"tin", "tins", BPI_COUNT, 0, 1, WORD},
};
const uint32_t bpi_unit_count = sizeof bpi_units / sizeof *bpi_units;
