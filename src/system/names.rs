//! Names that one system takes for something else than a file. The rule is read on every system, so that it can be tried on
//! every system; who asks for it is that system's side.
//!
//! Source: the Windows API's own "Naming Files, Paths, and Namespaces": reserved names, also with an ending; no name ends in
//! a space or a period; reserved characters.

/// What is wrong with a name by itself. The text goes on after "cannot be read: " and the like.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Trouble {
    /// The system keeps it for a device, whatever its ending.
    #[error("this system keeps the name {0} for a device, with any ending; give another name")]
    Device(String),
    /// The system would leave the end off and take another file.
    #[error("this system leaves dots and spaces at the end of a name off; give a name without them")]
    End,
    /// No file name may hold it.
    #[error("this system allows no {0} in a name; give a name without it")]
    Sign(char),
}

const DEVICES: [&str; 6] = ["CON", "PRN", "AUX", "NUL", "CONIN$", "CONOUT$"];
/// With a digit after them, a raised one too.
const PORTS: [&str; 2] = ["COM", "LPT"];
const SIGNS: [char; 8] = ['<', '>', ':', '"', '|', '?', '*', '/'];

/// What is wrong with one part of a path, which is no drive and neither `.` nor `..`.
pub fn trouble(name: &str) -> Option<Trouble> {
    if let Some(sign) = name.chars().find(|c| SIGNS.contains(c)) {
        return Some(Trouble::Sign(sign));
    }
    let stem = name.split('.').next().unwrap_or_default().trim_end();
    if is_device(&stem.to_uppercase()) {
        return Some(Trouble::Device(stem.to_owned()));
    }
    name.ends_with(['.', ' ']).then_some(Trouble::End)
}

fn is_device(stem: &str) -> bool {
    let port = PORTS.iter().find_map(|port| stem.strip_prefix(port));
    let digit = port.and_then(|rest| {
        let mut signs = rest.chars();
        signs.next().filter(|_| signs.next().is_none())
    });
    DEVICES.contains(&stem) || digit.is_some_and(|d| d.is_ascii_digit() || ['¹', '²', '³'].contains(&d))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_the_system_keeps_or_bends_is_refused_and_the_rest_passes() {
        for name in [
            "CON",
            "con",
            "aux.pdf",
            "Nul.tar.gz",
            "prn ",
            "com1",
            "LPT9.csv",
            "COM².ron",
            "conin$",
            "nul .pdf",
        ] {
            assert!(matches!(trouble(name), Some(Trouble::Device(_))), "{name}");
        }
        for name in ["card.", "card ", "card.pdf. .", "..."] {
            assert_eq!(trouble(name), Some(Trouble::End), "{name}");
        }
        for (name, sign) in [("a:b", ':'), ("why?", '?'), ("2\"x3\".pdf", '"'), ("a*b", '*'), ("a|b", '|')] {
            assert_eq!(trouble(name), Some(Trouble::Sign(sign)), "{name}");
        }
        let fine = [
            "card.ron",
            "console.pdf",
            "auxiliary",
            "com",
            "com10",
            "lpt",
            "a b.pdf",
            ".hidden",
            "½ inch",
            "nulla.csv",
        ];
        for name in fine {
            assert_eq!(trouble(name), None, "{name}");
        }
    }
}
