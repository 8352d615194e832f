//! One view a pane: reads the model, draws into its room, says where the cursor belongs.

pub mod bench;
mod gives;
pub mod mats;
pub mod palette;
pub mod plan;
pub mod stock;
pub mod yields;
