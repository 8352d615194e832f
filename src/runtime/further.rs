//! Works out the further answers of Yield. Knows which solver answers which question, nothing of the screen.

use crate::app::state::beside::{BesideAsk, BesideFound};
use crate::app::state::further::{FurtherAsk, FurtherFound};
use crate::domain::cutting::stop::Stop;
use crate::domain::cutting::strips;
use crate::domain::cutting::used_up::{self, UsedUpEffort};
use crate::domain::shelf_answers::{most, near_held, scrap, which_paper};
use crate::engine::planning::Abreast;

/// Answers one question; once nobody waits any more, with what was found by then. `so_far` hears of what is known of an
/// answer that takes long.
pub fn answer(ask: &FurtherAsk, stop: &Stop, so_far: &dyn Fn(FurtherFound)) -> FurtherFound {
    match ask {
        FurtherAsk::Near(ask, _) => FurtherFound::Near(near_held::near_held(ask, stop)),
        FurtherAsk::Papers(ask) => FurtherFound::Papers(which_paper::choose(ask, stop)),
        FurtherAsk::Most(ask) => FurtherFound::Most(Box::new(most::most(ask, &mut Abreast, stop))),
        FurtherAsk::Bin(asks) => FurtherFound::Bin(most::from_bin(asks, &mut Abreast, stop)),
        FurtherAsk::Scrap(ask) => FurtherFound::Scrap(scrap::gives(ask, stop)),
        FurtherAsk::UsedUp(ask, ..) => {
            let mut so_far = |used| so_far(FurtherFound::UsedUp(used));
            FurtherFound::UsedUp(used_up::suggest_telling(ask, UsedUpEffort::WHOLE, stop, &mut so_far))
        }
        FurtherAsk::Strips(ask) => FurtherFound::Strips(strips::strips(*ask).map_err(|e| e.to_string())),
    }
}

/// What stands beside the answer of Yield.
pub fn beside(ask: &BesideAsk, stop: &Stop) -> BesideFound {
    BesideFound {
        papers: which_paper::choose(&ask.papers, stop),
        offcuts: which_paper::choose(&ask.offcuts, stop),
        near: near_held::near_held(&ask.near, stop),
    }
}
