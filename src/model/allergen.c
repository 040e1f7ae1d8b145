#include "model/allergen.h"

#include <string.h>

/* US: Food Allergen Labeling and Consumer Protection Act of 2004 (Public Law 108-282, title II),
 * and the FASTER Act of 2021 (Public Law 117-11) for sesame; both in 21 U.S.C. 321(qq)(1).
 * EU: Regulation (EU) No 1169/2011, Annex II, points 1 to 14. Row order is label order. */
#define FALCPA "21 U.S.C. 321(qq)(1), FALCPA 2004"
#define FASTER "21 U.S.C. 321(qq)(1), FASTER Act 2021"

const bpi_allergen bpi_allergens[] = {
    {"milk", FALCPA, "Annex II 7"},      {"eggs", FALCPA, "Annex II 3"},
    {"fish", FALCPA, "Annex II 4"},      {"crustacean shellfish", FALCPA, "Annex II 2"},
    {"tree nuts", FALCPA, "Annex II 8"}, {"peanuts", FALCPA, "Annex II 5"},
    {"wheat", FALCPA, "Annex II 1"},     {"soybeans", FALCPA, "Annex II 6"},
    {"sesame", FASTER, "Annex II 11"},   {"cereals containing gluten", NULL, "Annex II 1"},
    {"celery", NULL, "Annex II 9"},      {"mustard", NULL, "Annex II 10"},
    {"sulphites", NULL, "Annex II 12"},  {"lupin", NULL, "Annex II 13"},
    {"molluscs", NULL, "Annex II 14"},
};
const uint32_t bpi_allergen_count = sizeof bpi_allergens / sizeof *bpi_allergens;

uint32_t bpi_allergen_find(const char *name)
{
    uint32_t i = 0;
    while (i < bpi_allergen_count && strcmp(bpi_allergens[i].name, name) != 0)
        i++;
    return i;
}

#define WHEAT  (UINT32_C(1) << 6)
#define GLUTEN (UINT32_C(1) << 9)

uint32_t bpi_allergen_meet(uint32_t allergies, uint32_t food)
{
    uint32_t both = allergies & food;
    return both | (allergies & GLUTEN ? food & WHEAT : 0);
}

/* Annex II has its own words for some. */
static const char *name_in(uint32_t i, bpi_law law)
{
    static const struct {
        const char *name, *eu;
    } words[] = {{"crustacean shellfish", "crustaceans"},
                 {"tree nuts", "nuts"},
                 {"wheat", "cereals containing gluten (wheat)"}};
    const bpi_allergen *a = &bpi_allergens[i];
    for (size_t k = 0; law == BPI_LAW_EU && k < sizeof words / sizeof *words; k++)
        if (strcmp(a->name, words[k].name) == 0)
            return words[k].eu;
    return a->name;
}

void bpi_allergen_put(bpi_text *out, uint32_t set, bpi_law law)
{
    const char *before = "";
    if (law == BPI_LAW_EU && (set & WHEAT))
        set &= ~GLUTEN; /* said with it */
    for (uint32_t i = 0; i < bpi_allergen_count; i++) {
        const bpi_allergen *a = &bpi_allergens[i];
        if (!(set >> i & 1) || (law == BPI_LAW_US && !a->us) || (law == BPI_LAW_EU && !a->eu))
            continue;
        bpi_text_put(out, before);
        bpi_text_put(out, name_in(i, law));
        before = ", ";
    }
}
