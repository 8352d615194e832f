//! One sentence for whatever is wrong with the words of a command line.

use clap::error::{ContextKind, ContextValue, ErrorKind};

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
    pub fn from_clap(error: &clap::Error) -> Self {
        if matches!(error.kind(), ErrorKind::DisplayHelp | ErrorKind::DisplayVersion) {
            return Self { text: error.render().to_string(), below: String::new(), is_help: true };
        }
        if matches!(
            error.kind(),
            ErrorKind::MissingSubcommand | ErrorKind::DisplayHelpOnMissingArgumentOrSubcommand
        ) {
            return missing_verb(&error.render().to_string());
        }
        let words = Words { error };
        let text = words.sentence().unwrap_or_else(|| first_paragraph(&error.render().to_string()));
        Self { text: format!("{text}; see {} --help", words.command()), below: String::new(), is_help: false }
    }
}

struct Words<'a> {
    error: &'a clap::Error,
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
                Some(
                    self.with_suggestion(
                        format!("\"{given}\" is no command"),
                        ContextKind::SuggestedSubcommand,
                    ),
                )
            }
            ErrorKind::InvalidValue => {
                let (given, value) = (given?, self.one(ContextKind::InvalidValue)?);
                if value.is_empty() {
                    return Some(format!("{given} needs a value after it"));
                }
                let valid = self.one(ContextKind::ValidValue)?;
                Some(format!("\"{value}\" cannot be the value of {given}: write one of {valid}"))
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
                Some(format!("{given} and {prior} cannot stand together: write one of them"))
            }
            ErrorKind::WrongNumberOfValues | ErrorKind::TooFewValues | ErrorKind::TooManyValues => {
                Some(format!("{} has the wrong number of values", given?))
            }
            ErrorKind::InvalidUtf8 => Some("a word is not valid UTF-8".to_owned()),
            _ => None,
        }
    }

    fn unknown(&self, given: &str) -> String {
        if given.starts_with('-') {
            self.with_suggestion(format!("{given} is not known here"), ContextKind::SuggestedArg)
        } else {
            format!("\"{given}\" is not expected here: put a value with spaces in quotation marks")
        }
    }

    fn with_suggestion(&self, text: String, kind: ContextKind) -> String {
        match self.one(kind) {
            Some(close) => format!("{text}: is {close} meant?"),
            None => text,
        }
    }

    /// The command that the usage line speaks of: `trimside yield`.
    fn command(&self) -> String {
        let usage = self.one(ContextKind::Usage).unwrap_or_default();
        let words = usage.split_whitespace().skip_while(|w| *w != "trimside");
        let command: Vec<&str> = words
            .take_while(|w| w.chars().all(|c| c.is_ascii_lowercase() || c == '-') && !w.starts_with('-'))
            .collect();
        if command.is_empty() { "trimside".to_owned() } else { command.join(" ") }
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
