//! The cautions, word for word. They keep people from harm: before one is changed read the source named beside it, and say
//! in the change why the new words keep what it asks for.

use trimside::domain::cards::cautions::{Activity, DEFER, when};
use trimside::domain::craft::topics;
use trimside::domain::cutting::words::STACK_CAUTION;

#[test]
fn cautions_stand_word_for_word() {
    for (activity, words) in [
        // School safety notes and guillotine safety directives: guard, latch, cap, adults.
        (
            Activity::Cutting,
            "Keep fingers behind the guard and cut away from the hand that holds the sheet; latch a lever cutter down and cap a knife whenever you stop; change a blade that drags. Lever cutters are for adults.",
        ),
        // Art-material safety guides: fresh air, no flame, the maker's label.
        (
            Activity::Adhesives,
            "Spray adhesives and solvents belong outdoors or in moving fresh air, away from any flame; follow the label and the safety sheet.",
        ),
        // Heat with flammable vapour is a fire hazard; hot glue holds on to skin and goes on burning (common practice).
        (
            Activity::Heat,
            "A heat tool's nozzle and freshly heated card stay hot for a while, and hot glue sticks to skin and burns it: work on a heat-proof surface, well away from sprays and solvents, keep fingers off the glue until it is cold, and unplug the tool when done.",
        ),
        (
            Activity::Powders,
            "Embossing powder, glitter and chalk raise dust: pour over a tray, do not blow, wipe up with a damp cloth.",
        ),
        // LHAMA labelling rule, ASTM D4236.
        (
            Activity::Materials,
            "With children use only materials labeled as suitable for them; in the United States look for the ASTM D4236 conformance line on art materials.",
        ),
        // 16 CFR 1501.4: a cylinder 1.25 in across, 1 to 2.25 in deep.
        (
            Activity::Children,
            "On a card for a child under three leave off anything that fits a cylinder 1 1/4 in across and up to 2 1/4 in deep, such as gems, brads and buttons; for older children say what is attached. Rules differ by country.",
        ),
    ] {
        assert_eq!(when(activity).unwrap().text, words, "{activity:?}");
    }
    assert_eq!(DEFER, "the maker's instructions and local rules come first");
}

/// What stands in the help beside the work, word for word: read the source in `assets/craft.ron` before one is changed.
#[test]
fn safety_topics_stand_word_for_word() {
    for (title, words) in [
        // School safety notes on cutting tools.
        (
            "Blade cautions",
            "Keep fingers behind the guard, and cut away from the hand that holds the sheet. Change a blade that drags, tears or bends the paper: a dull one slips. Cap a knife whenever you stop; the maker's instructions come first.",
        ),
        // Guillotine safety directives: the arm latched, the side it falls on clear, adults alone.
        (
            "Guillotine cautions",
            "A lever cutter's arm falls by its own weight: latch it down whenever you stop, and keep everyone clear of the side it falls on. Lever cutters are for adults, guard and clamp in place, one pair of hands at a time.",
        ),
        // Art-material safety guides: vapour burns, and is not to be breathed in a closed room.
        (
            "Adhesives",
            "Wet glue swells paper and buckles thin sheets; dry tape and film do not, but give you no second try. Spray adhesives and solvents belong outdoors or in moving fresh air, away from any flame: follow the label.",
        ),
        // Heat with flammable vapour; hot glue on skin (common practice).
        (
            "Heat",
            "A heat tool's nozzle and freshly heated card stay hot for a while; hot glue sticks to skin and burns it. Work on a heat-proof surface well away from sprays and solvents, keep fingers off the glue until it is cold, and unplug the tool when done.",
        ),
        // 16 CFR 1501.4: the cylinder that stands for a small child's throat.
        (
            "Small parts and children",
            "On a card for a child under three leave off whatever fits a cylinder 1 1/4 in across and up to 2 1/4 in deep. Gems, brads and buttons do; rules differ by country.",
        ),
        // Trimmer makers' notes: what is narrow is held with the fingers close to the blade.
        (
            "Narrow strips",
            "A strip of an inch or less is hard to hold, and less than 1/8 in is hard to shave off. Cut it last from a wide piece, or with a knife along a steel rule; keep the fingers that hold the rule well back.",
        ),
    ] {
        let topic = topics().iter().find(|t| t.title == title).unwrap();
        assert_eq!(topic.text, words, "{title}");
    }
    // Trimmer makers' notes on stacks: they creep under the blade.
    assert_eq!(
        STACK_CAUTION,
        "A stack shifts under the blade and needs force: square it, press it down along the whole cut, and never cut more at once than the trimmer's maker allows."
    );
}
