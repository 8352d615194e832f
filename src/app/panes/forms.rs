//! Which table a form goes by.

use super::mats::new_card;
use super::palette::new_swatch;
use super::stock::{new_class, new_line, new_offcut, new_sale, pack_forms, receive, receive_marked};
use super::trimmer;
use crate::app::panes::form::FormTable;
use crate::app::state::forms::FormFor;

/// The table of a form.
pub fn table(what: &FormFor) -> &'static FormTable {
    match what {
        FormFor::NewLine(_) => &new_line::TABLE,
        FormFor::Receive(_) | FormFor::Arrived(_) => &receive::TABLE,
        FormFor::ReceiveMarked(_) | FormFor::ArrivedMarked(_) => &receive_marked::TABLE,
        FormFor::ReceivePack(_) => &pack_forms::RECEIVED,
        FormFor::NewPack(_) => &pack_forms::NEW,
        FormFor::Class => &new_class::TABLE,
        FormFor::Sold(_) => &new_sale::TABLE,
        FormFor::Trimmer(_) => &trimmer::TABLE,
        FormFor::Offcut(_) => &new_offcut::TABLE,
        FormFor::Swatch => &new_swatch::TABLE,
        FormFor::Card => &new_card::TABLE,
    }
}
