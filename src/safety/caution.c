#include "safety/caution.h"

#define PRACTICE "common practice, no source"

static const bpi_caution cautions[] = {
    {BPI_HOT_OIL, "hot oil",
     "Hot oil: dry the food first, lower it in away from you, lid within reach; never put water on "
     "burning oil.",
     PRACTICE},
    {BPI_OPEN_FLAME, "open flame",
     "Open flame: nothing loose near it, sleeves and cloths clear, never leave it alone.",
     PRACTICE},
    {BPI_HOT_BLENDER, "hot liquid in blender",
     "Hot liquid in a blender: fill it a third at most, open the vent, hold the lid down with a "
     "cloth, start slow.",
     PRACTICE},
    {BPI_KNIFE, "knife",
     "Knife: damp cloth under the board, fingertips curled in, carry it point down.", PRACTICE},
    {BPI_RAW_POULTRY, "raw poultry",
     "Raw poultry: own board and knife, kept away from food that is ready to eat; wash hands and "
     "surfaces after it.",
     "FDA Food Code 3-302.11(A), from memory"},
    {BPI_RAW_MEAT, "raw meat",
     "Raw meat: own board and knife, kept away from food that is ready to eat; wash hands and "
     "surfaces after it.",
     "FDA Food Code 3-302.11(A), from memory"},
    {BPI_ALCOHOL, "alcohol",
     "Spirit: pour it off the burner and from a measure, not the bottle; step back, then back to "
     "the heat.",
     PRACTICE},
    {BPI_STEAM, "steam", "Steam: tilt the lid away from you, dry cloths only.", PRACTICE},
    {BPI_HOT_SUGAR, "hot sugar",
     "Hot sugar: it clings and burns deep; bare hands stay away, a bowl of cold water stands by.",
     PRACTICE},
};

const bpi_caution *bpi_cautions(size_t *n)
{
    *n = sizeof cautions / sizeof *cautions;
    return cautions;
}

void bpi_caution_put(bpi_text *out, uint32_t hazards)
{
    const char *between = "";
    for (size_t i = 0; i < sizeof cautions / sizeof *cautions; i++) {
        if (!(hazards & (uint32_t)cautions[i].hazard))
            continue;
        bpi_text_put(out, between);
        bpi_text_put(out, cautions[i].text);
        between = "\n";
    }
}

const char *bpi_defer_words(void)
{
    return "Local code and the venue's licensed kitchen manager come first. This plan warns; it "
           "certifies nothing.";
}
