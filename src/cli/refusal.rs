//! One sentence for whatever is wrong with the words of a command line.

use crate::domain::near::question;
use clap::Command;
use clap::error::{ContextKind, ContextValue, ErrorKind};
use std::ffi::OsString;

/// Why a command line was not taken, or the text that it asked for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Refusal {
    /// One line; or the help or version text as it is.
    pub text: String,
    /// What stands below that line: the commands to choose from where one is missing, a line each.
    pub below: String,
    /// True for help and version, which belong on standard output and are no failure.
    pub is_help: bool,
}

impl Refusal {
    /// The sentence for one of the reader's errors.
    pub fn from_clap(error: &clap::Error, program: &Command, typed: &[OsString]) -> Self {
        if matches!(error.kind(), ErrorKind::DisplayHelp | ErrorKind::DisplayVersion) {
            return Self { text: error.render().to_string(), below: String::new(), is_help: true };
        }
        if matches!(
            error.kind(),
            ErrorKind::MissingSubcommand | ErrorKind::DisplayHelpOnMissingArgumentOrSubcommand
        ) {
            return missing_verb(&error.render().to_string());
        }
        let words = Words { error, program, typed };
        let text = words.sentence().unwrap_or_else(|| first_paragraph(&error.render().to_string()));
        Self { text: format!("{text}; see {} --help", words.command()), below: String::new(), is_help: false }
    }
}

struct Words<'a> {
    error: &'a clap::Error,
    program: &'a Command,
    /// The words of the line, the program's own name first.
    typed: &'a [OsString],
}

impl Words<'_> {
    fn one(&self, kind: ContextKind) -> Option<String> {
        match self.error.get(kind)? {
            ContextValue::String(text) => Some(text.clone()),
            ContextValue::Strings(texts) => Some(texts.join(", ")),
            ContextValue::StyledStr(text) => Some(text.to_string()),
            _ => None,
        }
    }

    fn sentence(&self) -> Option<String> {
        let given = self.one(ContextKind::InvalidArg);
        match self.error.kind() {
            ErrorKind::MissingRequiredArgument => Some(format!("{} is missing", given?)),
            ErrorKind::UnknownArgument => Some(self.unknown(&given?)),
            ErrorKind::InvalidSubcommand => {
                let given = self.one(ContextKind::InvalidSubcommand)?;
                Some(self.with_suggestion(
                    format!("\"{given}\" is not a command"),
                    ContextKind::SuggestedSubcommand,
                ))
            }
            ErrorKind::InvalidValue => {
                let (given, value) = (given?, self.one(ContextKind::InvalidValue)?);
                if value.is_empty() {
                    return Some(format!("{given} needs a value after it"));
                }
                let valid = self.one(ContextKind::ValidValue)?;
                let near = question(&value, valid.split(", "));
                Some(format!("\"{value}\" cannot be the value of {given}: {near}write one of {valid}"))
            }
            ErrorKind::ValueValidation => {
                let (given, value) = (given?, self.one(ContextKind::InvalidValue)?);
                let why = std::error::Error::source(self.error).map(ToString::to_string)?;
                Some(format!("\"{value}\" cannot be the value of {given}: {why}"))
            }
            ErrorKind::ArgumentConflict => {
                let (given, prior) = (given?, self.one(ContextKind::PriorArg)?);
                if given == prior {
                    return Some(format!("{given} is given twice: write it once"));
                }
                Some(format!("{given} and {prior} cannot be used together: write only one"))
            }
            ErrorKind::WrongNumberOfValues | ErrorKind::TooFewValues | ErrorKind::TooManyValues => {
                Some(format!("{} has the wrong number of values", given?))
            }
            ErrorKind::InvalidUtf8 => Some("a word is not valid UTF-8".to_owned()),
            _ => None,
        }
    }

    fn unknown(&self, given: &str) -> String {
        if given.starts_with('-') && given.chars().nth(1).is_some_and(|c| c.is_ascii_digit() || c == '.') {
            let option = self.before(given).map_or_else(String::new, |option| format!("{option}: "));
            format!("{option}\"{given}\" is below zero: write a value of zero or more")
        } else if given.starts_with('-') {
            self.with_suggestion(format!("{given} is not known here"), ContextKind::SuggestedArg)
        } else {
            format!("\"{given}\" is not expected here: put a value with spaces in quotation marks")
        }
    }

    fn with_suggestion(&self, text: String, kind: ContextKind) -> String {
        match self.one(kind) {
            Some(close) => format!("{text}: did you mean {close}?"),
            None => text,
        }
    }

    /// The option that stands before a word.
    fn before(&self, given: &str) -> Option<String> {
        let at = self.typed.iter().position(|word| word.to_string_lossy().starts_with(given))?;
        let option = self.typed.get(at.checked_sub(1)?)?.to_string_lossy().into_owned();
        option.starts_with("--").then_some(option)
    }

    /// The command that the line is about, as far as its words are commands: `trimside stock use`.
    fn command(&self) -> String {
        let mut at = self.program;
        let mut path = vec!["trimside"];
        for word in self.typed.iter().skip(1) {
            if let Some(below) = at.find_subcommand(&*word.to_string_lossy()) {
                at = below;
                path.push(below.get_name());
            }
        }
        path.join(" ")
    }
}

/// The commands that may follow, a line each, from the help that the reader shows instead of an error.
fn missing_verb(help: &str) -> Refusal {
    let usage = help.lines().find_map(|line| line.trim().strip_prefix("Usage: ")).unwrap_or("trimside");
    let after: Vec<&str> = usage.split(' ').take_while(|word| !word.starts_with(['[', '<'])).collect();
    let after = after.join(" ");
    let below = help.lines().skip_while(|line| line.trim() != "Commands:").skip(1);
    let rows: Vec<&str> = below.take_while(|line| !line.trim().is_empty()).collect();
    let below = format!("{}\nsee {after} --help\n", rows.join("\n"));
    Refusal { text: format!("a command is missing after {after}: write one of these"), below, is_help: false }
}

fn first_paragraph(text: &str) -> String {
    let lines = text.lines().take_while(|l| !l.trim().is_empty()).map(str::trim);
    lines.collect::<Vec<_>>().join(" ").trim_start_matches("error: ").to_owned()
}
