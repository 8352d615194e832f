//! The impure shell: event loop, terminal guard, effects, clock, signals.
