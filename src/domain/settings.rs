//! Units, sheet, trimmer, tools, theme choice.
