//! Card formats, folds, layers, envelopes, post, stack: the size of everything on a card.
