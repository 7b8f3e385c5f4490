// Torchon ground as a contribution written in C: one stitch at every dot of the
// grid. The bindings in bindings/ are generated from sdk/wit/0.1.0; this file
// fills in the two functions they ask for.

#include <stdlib.h>
#include <string.h>

#include "bindings/contribution.h"

// The generated names are long: `ground(stitch_t)` is the type of a stitch.
#define ground(name) exports_pairwise_ground_ground_##name
#define COUNT(array) (sizeof(array) / sizeof((array)[0]))

typedef contribution_string_t text;

// A text that lies in the file itself. Nothing of what is answered is ever
// given back: `free` does nothing here (see runtime.c), so this is no fault.
static text say(const char *words) {
    text said;
    contribution_string_set(&said, words);
    return said;
}

static bool is(text said, const char *words) {
    return said.len == strlen(words) && memcmp(said.ptr, words, said.len) == 0;
}

enum { C = EXPORTS_PAIRWISE_GROUND_GROUND_MOVE_CROSS,
       T = EXPORTS_PAIRWISE_GROUND_GROUND_MOVE_TWIST,
       PIN = EXPORTS_PAIRWISE_GROUND_GROUND_MOVE_PIN };

// What may be worked at a pin: the first is the usual one.
static uint8_t half_half[] = {C, T, PIN, C, T};
static uint8_t doubled[] = {C, T, C, T, PIN, C, T, C, T};

static const struct {
    const char *id, *title;
    ground(list_move_t) work;
} STITCHES[] = {
    {"half-half", "half stitch, pin, half stitch", {half_half, COUNT(half_half)}},
    {"double", "cloth stitch and twist, pin, cloth stitch and twist", {doubled, COUNT(doubled)}},
};

static const int32_t MOST_TWISTS = 3;

// What the contribution is. Asked once.
void ground(about)(ground(description_t) *said) {
    ground(option_of_t) *options = malloc(sizeof(ground(option_of_t)) * COUNT(STITCHES));
    for (size_t n = 0; n < COUNT(STITCHES); n++) {
        options[n].id = say(STITCHES[n].id);
        options[n].title = say(STITCHES[n].title);
    }

    ground(choice_t) *choices = calloc(2, sizeof(ground(choice_t)));
    choices[0].id = say("stitch");
    choices[0].title = say("Stitch at every pin");
    choices[0].range.tag = EXPORTS_PAIRWISE_GROUND_GROUND_RANGE_NAMED;
    choices[0].range.val.named.ptr = options;
    choices[0].range.val.named.len = COUNT(STITCHES);
    choices[0].default_.tag = EXPORTS_PAIRWISE_GROUND_GROUND_VALUE_NAMED;
    choices[0].default_.val.named = say(STITCHES[0].id);
    choices[1].id = say("twists");
    choices[1].title = say("Extra twists between the pins");
    choices[1].range.tag = EXPORTS_PAIRWISE_GROUND_GROUND_RANGE_COUNT;
    choices[1].range.val.count.f0 = 0;
    choices[1].range.val.count.f1 = MOST_TWISTS;
    choices[1].default_.tag = EXPORTS_PAIRWISE_GROUND_GROUND_VALUE_COUNT;
    choices[1].default_.val.count = 0;

    // What a variety does not set is at its default.
    ground(setting_t) *firm = malloc(sizeof(ground(setting_t)));
    firm->choice = say("stitch");
    firm->value.tag = EXPORTS_PAIRWISE_GROUND_GROUND_VALUE_NAMED;
    firm->value.val.named = say("double");

    ground(variety_t) *varieties = calloc(2, sizeof(ground(variety_t)));
    varieties[0].id = say("plain");
    varieties[0].title = say("Torchon ground");
    varieties[0].notes = say("Every pair travels along its diagonal.");
    varieties[0].source = say("common practice, from memory");
    varieties[1].id = say("double");
    varieties[1].title = say("Double torchon ground");
    varieties[1].settings.ptr = firm;
    varieties[1].settings.len = 1;
    varieties[1].notes = say("Both pairs turn back at every pin: colours stay in their columns.");
    varieties[1].source = say("common practice, from memory");

    text *laces = malloc(sizeof(text));
    *laces = say("Torchon");

    memset(said, 0, sizeof *said);
    said->id = say("torchon-in-c");
    said->title = say("Torchon ground, written in C");
    said->kind = EXPORTS_PAIRWISE_GROUND_GROUND_KIND_GROUND;
    said->family = say("torchon");
    said->laces.ptr = laces;
    said->laces.len = 1;
    said->angle = 45;
    said->notes = say("A stitch and a pin at every dot.");
    said->source = say("common practice, from memory");
    said->choices.ptr = choices;
    said->choices.len = 2;
    said->varieties.ptr = varieties;
    said->varieties.len = 2;
}

// The repeat for these choices, or why there is none. Says whether there is one.
bool ground(define)(ground(list_setting_t) *settings, ground(repeat_t) *repeat, ground(problem_t) *problem) {
    const ground(list_move_t) *work = NULL;
    uint32_t twists = 0;
    for (size_t n = 0; n < settings->len; n++) {
        const ground(setting_t) *setting = &settings->ptr[n];
        if (is(setting->choice, "twists")) {
            twists = (uint32_t)setting->value.val.count;
        } else if (is(setting->choice, "stitch")) {
            for (size_t s = 0; s < COUNT(STITCHES); s++) {
                if (is(setting->value.val.named, STITCHES[s].id)) work = &STITCHES[s].work;
            }
        }
    }
    if (!work) {
        // The host sees to it that this never happens.
        memset(problem, 0, sizeof *problem);
        problem->choice.is_some = true;
        problem->choice.val = say("stitch");
        problem->sentence = say("no stitch of this name is known");
        return false;
    }

    ground(stitch_t) *pin = calloc(1, sizeof(ground(stitch_t)));
    pin->id = say("pin");
    pin->at.is_some = true; // at (0, 0)
    pin->work = *work;

    // Set side by side one step right and down, and one step left and down.
    repeat->across.x = 1;
    repeat->across.y = 1;
    repeat->down.x = -1;
    repeat->down.y = 1;
    repeat->stitches.ptr = pin;
    repeat->stitches.len = 1;

    // Both pairs go down their diagonals to the same stitch of another repeat:
    // the left one to that below on the left, the right one to that on the right.
    ground(leg_t) *legs = calloc(2, sizeof(ground(leg_t)));
    legs[0].from_side = EXPORTS_PAIRWISE_GROUND_GROUND_SIDE_LEFT;
    legs[0].to_side = EXPORTS_PAIRWISE_GROUND_GROUND_SIDE_RIGHT;
    legs[0].cell_down = 1;
    legs[0].twists = twists;
    legs[1].from_side = EXPORTS_PAIRWISE_GROUND_GROUND_SIDE_RIGHT;
    legs[1].to_side = EXPORTS_PAIRWISE_GROUND_GROUND_SIDE_LEFT;
    legs[1].cell_across = 1;
    legs[1].twists = twists;
    repeat->legs.ptr = legs;
    repeat->legs.len = 2;
    return true;
}
