//! The cautions, word for word. They keep people from harm: before one is changed read the source named beside it, and say
//! in the change why the new words keep what it asks for.

use trimside::domain::cards::cautions::{Activity, DEFER, when};

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
        // Heat with flammable vapour is a fire hazard (common practice).
        (
            Activity::Heat,
            "A heat tool's nozzle and freshly heated card stay hot for a while: work on a heat-proof surface, well away from sprays and solvents, and unplug it when done.",
        ),
        (
            Activity::Powders,
            "Embossing powder, glitter and chalk raise dust: pour over a tray, do not blow, wipe up with a damp cloth.",
        ),
        // LHAMA labelling rule, ASTM D4236.
        (
            Activity::Materials,
            "With children use only materials labelled as suitable for them; in the United States look for the ASTM D4236 conformance line on art materials.",
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
