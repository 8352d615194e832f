//! The workbench without a terminal: model, actions, update, commands, keys, pane state. Knows the domain only.
