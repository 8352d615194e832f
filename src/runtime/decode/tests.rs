use super::*;
use proptest::prelude::*;
use proptest::test_runner::FileFailurePersistence;

fn reports(bytes: &[u8]) -> Vec<Report> {
    let mut decoder = Decoder::default();
    let mut all = decoder.feed(bytes);
    all.extend(decoder.settle());
    all
}

/// Keys in the spelling `C-x`, `A-x`, `S-x`, with names for those that print nothing.
fn spelled(bytes: &[u8]) -> String {
    let spell = |report: &Report| match report {
        Report::Key(key) => {
            let mut text = String::new();
            for (modifier, letter) in
                [(KeyModifiers::CONTROL, "C-"), (KeyModifiers::ALT, "A-"), (KeyModifiers::SHIFT, "S-")]
            {
                if key.modifiers.contains(modifier) {
                    text.push_str(letter);
                }
            }
            match key.code {
                KeyCode::Char(letter) => text.push(letter),
                other => text = format!("{text}{other:?}"),
            }
            text
        }
        Report::Paste(pasted) => format!("paste {pasted:?}"),
        Report::Ground(colour) => format!("ground {colour:.2?}"),
        Report::Focus(gained) => format!("focus {gained}"),
        Report::Mouse(mouse) => {
            format!("{:?} {},{} {:?}", mouse.kind, mouse.column, mouse.row, mouse.modifiers)
        }
    };
    reports(bytes).iter().map(spell).collect::<Vec<_>>().join(" ")
}

#[test]
fn keys_as_xterm_sends_them() {
    // "XTerm Control Sequences", section "PC-Style Function Keys" and "VT220-Style Function Keys"; the modifier codes
    // 2 to 8 from its table there.
    for (bytes, keys) in [
        ("\x1b[A\x1b[B\x1b[C\x1b[D", "Up Down Right Left"),
        ("\x1bOA\x1bOB\x1bOC\x1bOD", "Up Down Right Left"),
        ("\x1b[H\x1b[F\x1bOH\x1bOF", "Home End Home End"),
        ("\x1bOP\x1bOQ\x1bOR\x1bOS", "F(1) F(2) F(3) F(4)"),
        ("\x1b[11~\x1b[12~\x1b[13~\x1b[14~\x1b[15~", "F(1) F(2) F(3) F(4) F(5)"),
        ("\x1b[17~\x1b[18~\x1b[19~\x1b[20~\x1b[21~", "F(6) F(7) F(8) F(9) F(10)"),
        ("\x1b[23~\x1b[24~\x1b[25~\x1b[26~\x1b[28~\x1b[29~", "F(11) F(12) F(13) F(14) F(15) F(16)"),
        ("\x1b[31~\x1b[32~\x1b[33~\x1b[34~", "F(17) F(18) F(19) F(20)"),
        ("\x1b[2~\x1b[3~\x1b[5~\x1b[6~", "Insert Delete PageUp PageDown"),
        ("\x1b[1~\x1b[4~\x1b[7~\x1b[8~", "Home End Home End"),
        ("\x1b[1;2A\x1b[1;3A\x1b[1;4A\x1b[1;5A", "S-Up A-Up A-S-Up C-Up"),
        ("\x1b[1;6P\x1b[1;7Q\x1b[1;8R\x1b[3;5~", "C-S-F(1) C-A-F(2) C-A-S-F(3) C-Delete"),
        ("\x1b[Z", "S-BackTab"),
        // modifyOtherKeys: Ctrl-Shift-a as 27;6;65~, and the form with u.
        ("\x1b[27;6;65~\x1b[97;5u\x1b[13;5u\x1b[9;2u\x1b[27u", "C-S-A C-a C-Enter S-BackTab Esc"),
        ("\x1b[97;1:3u", ""),
    ] {
        assert_eq!(spelled(bytes.as_bytes()), keys, "{bytes:?}");
    }
}

#[test]
fn keys_of_the_linux_console() {
    // terminfo entry "linux": kf1=\E[[A to kf5=\E[[E, kf6=\E[17~.
    assert_eq!(spelled(b"\x1b[[A\x1b[[E\x1b[17~"), "F(1) F(5) F(6)");
}

#[test]
fn plain_keys_and_controls() {
    // ASCII control characters (ECMA-6): Ctrl with a letter is its number in the alphabet.
    assert_eq!(spelled(b"aZ~ "), "a S-Z ~  ");
    assert_eq!(spelled(b"\x01\x1a\x03\x1c\x00"), "C-a C-z C-c C-4 C- ");
    assert_eq!(spelled(b"\r\n\t\x7f\x08"), "Enter Enter Tab Backspace Backspace");
    assert_eq!(spelled("é½″😀Ä".as_bytes()), "é ½ ″ 😀 S-Ä");
}

#[test]
fn escape_alone_and_before_other_keys() {
    assert_eq!(spelled(b"\x1b"), "Esc");
    assert_eq!(spelled(b"\x1b\x1b"), "Esc Esc");
    assert_eq!(spelled(b"\x1b\x1b[A"), "Esc Up");
    assert_eq!(spelled(b"\x1bq"), "A-q");
    assert_eq!(spelled("\x1bé".as_bytes()), "A-é");
    assert_eq!(spelled(b"\x1b["), "A-[");
    assert_eq!(spelled(b"\x1bO"), "A-S-O");
    assert_eq!(spelled(b"\x1b]"), "A-]");
    assert_eq!(spelled(b"\x1b\r"), "A-Enter");
}

#[test]
fn a_paste_is_one_report_whatever_is_in_it() {
    assert_eq!(spelled(b"\x1b[200~q\x1b[Ax\r\ny\rz\x03\x1b[201~k"), r#"paste "q\u{1b}[Ax\ny\nz\u{3}" k"#);
    assert_eq!(spelled(b"\x1b[200~\x1b[201~"), r#"paste """#);
    assert_eq!(spelled(b"\x1b[200~\xff\x1b[201~"), "paste \"\u{fffd}\"");
    // Not ended: nothing of it becomes keys.
    assert_eq!(spelled(b"\x1b[200~rm"), "");
    assert_eq!(spelled(b"\x1b[201~"), "");
}

#[test]
fn clicks_in_the_decimal_encoding() {
    // "XTerm Control Sequences", section "Mouse Tracking", SGR (1006): button bits, places from 1, M down, m up.
    assert_eq!(spelled(b"\x1b[<0;20;10M"), "Down(Left) 19,9 KeyModifiers(0x0)");
    assert_eq!(spelled(b"\x1b[<2;1;1m"), "Up(Right) 0,0 KeyModifiers(0x0)");
    assert_eq!(
        spelled(b"\x1b[<64;5;6M\x1b[<65;5;6M"),
        "ScrollUp 4,5 KeyModifiers(0x0) ScrollDown 4,5 KeyModifiers(0x0)"
    );
    assert_eq!(spelled(b"\x1b[<33;5;6M"), "Drag(Middle) 4,5 KeyModifiers(0x0)");
    assert_eq!(spelled(b"\x1b[<35;5;6M"), "Moved 4,5 KeyModifiers(0x0)");
    assert_eq!(spelled(b"\x1b[<16;5;6M"), "Down(Left) 4,5 KeyModifiers(CONTROL)");
}

#[test]
fn clicks_in_the_old_encoding() {
    // The same section, X10: each of three bytes is 32 more than its value, places from 1; button 3 is "up".
    assert_eq!(spelled(b"\x1b[M !!"), "Down(Left) 0,0 KeyModifiers(0x0)");
    assert_eq!(spelled(b"\x1b[M#0p"), "Up(Left) 15,79 KeyModifiers(0x0)");
    assert_eq!(spelled(b"\x1b[M`!!"), "ScrollUp 0,0 KeyModifiers(0x0)");
}

#[test]
fn focus() {
    assert_eq!(spelled(b"\x1b[I\x1b[O"), "focus true focus false");
}

#[test]
fn damaged_and_unasked_reports_leave_the_next_key_alone() {
    for bytes in [
        // Places of 0, out of range, missing.
        "\x1b[<0;0;0M",
        "\x1b[<0;99999;1M",
        "\x1b[<0;1M",
        "\x1b[<999;1;1M",
        "\x1b[M\x01\x01\x01",
        // Cursor place, device attributes, mode report, colour of the background, a named string.
        "\x1b[0;0R",
        "\x1b[24;80R",
        "\x1b[?62;22c",
        "\x1b[>0;276;0c",
        "\x1b[?2026;2$y",
        "\x1b]12;rgb:ffff/ffff/ffff\x07",
        "\x1b]12;rgb:ffff/ffff/ffff\x1b\\",
        "\x1bP1$r0m\x1b\\",
        "\x1b_Gi=31;OK\x1b\\",
        // Unknown, too long, cut off by a control character.
        "\x1b[99~",
        "\x1b[5;5;5;5X",
        "\x1bOz",
        "\x1b[[Z",
        "\x1b[1;\x01",
    ] {
        assert_eq!(spelled(format!("{bytes}k").as_bytes()), "k", "{bytes:?}");
    }
    let long = format!("\x1b[{}~k", "1;".repeat(4_000));
    assert_eq!(spelled(long.as_bytes()), "k");
    // Bytes that are no text.
    assert_eq!(spelled(b"\xffk"), "k");
    assert_eq!(spelled(b"\xc3k"), "k");
    assert_eq!(spelled(b"\xe2\x82k"), "k");
    assert_eq!(spelled(b"\xed\xa0\x80k"), "k");
}

#[test]
fn silence_ends_what_was_begun() {
    let mut decoder = Decoder::default();
    assert_eq!(decoder.feed(b"\x1b[1;"), []);
    assert!(decoder.is_waiting());
    assert_eq!(decoder.settle(), None);
    assert!(!decoder.is_waiting());
    assert_eq!(decoder.feed(b"A").len(), 1);
    // A paste that pauses is still a paste.
    decoder.feed(b"\x1b[200~2x3");
    assert!(!decoder.is_waiting());
    assert_eq!(decoder.settle(), None);
    assert_eq!(decoder.feed(b"\x1b[201~"), [Report::Paste("2x3".to_owned())]);
}

/// Bytes that look like what terminals send, whole and broken.
fn likely() -> impl Strategy<Value = Vec<u8>> {
    let part = prop_oneof![
        Just(b"\x1b[".to_vec()),
        Just(b"\x1b[<".to_vec()),
        Just(b"\x1b[M".to_vec()),
        Just(b"\x1bO".to_vec()),
        Just(b"\x1b]".to_vec()),
        Just(b"\x1b\\".to_vec()),
        Just(b"\x1b".to_vec()),
        Just(b"\x1b[200~".to_vec()),
        Just(b"\x1b[201~".to_vec()),
        Just(b";".to_vec()),
        Just(b"65536".to_vec()),
        prop::collection::vec(any::<u8>(), 1..4),
        prop::collection::vec(prop::sample::select(b"0123456789;:AMmRu~cIO".as_slice()), 1..6),
    ];
    prop::collection::vec(part, 0..40).prop_map(|parts| parts.concat())
}

/// What failed once is kept beside this file.
fn kept() -> ProptestConfig {
    let kept = FileFailurePersistence::WithSource("proptest-regressions");
    ProptestConfig { failure_persistence: Some(Box::new(kept)), ..ProptestConfig::default() }
}

proptest! {
    #![proptest_config(kept())]

    /// Reports do not depend on how the bytes were cut into reads.
    #[test]
    fn cuts_change_nothing(bytes in likely(), cuts in prop::collection::vec(1_usize..9, 0..60)) {
        let mut whole = Decoder::default();
        let at_once = whole.feed(&bytes);
        let mut decoder = Decoder::default();
        let mut in_parts = Vec::new();
        let mut rest = bytes.as_slice();
        for cut in cuts {
            let (part, after) = rest.split_at(cut.min(rest.len()));
            in_parts.extend(decoder.feed(part));
            rest = after;
        }
        in_parts.extend(decoder.feed(rest));
        prop_assert_eq!(at_once, in_parts);
        prop_assert_eq!(whole.settle(), decoder.settle());
    }

    /// After any bytes at all and a moment of silence the next key is heard, unless a paste was begun.
    #[test]
    fn nothing_makes_it_deaf(bytes in likely()) {
        let mut decoder = Decoder::default();
        decoder.feed(&bytes);
        decoder.settle();
        if decoder.state == State::Paste {
            decoder.feed(PASTE_ENDS);
        }
        prop_assert_eq!(decoder.feed(b"k"), [key(KeyCode::Char('k'), KeyModifiers::NONE)]);
    }
}

#[test]
fn an_answer_about_the_ground_is_understood_however_it_is_cut() {
    // XTerm Control Sequences, OSC 11: "rgb:rrrr/gggg/bbbb", ended by ST or BEL.
    for bytes in [
        &b"\x1b]11;rgb:ffff/8080/0000\x1b\\"[..],
        b"\x1b]11;rgb:ff/80/00\x07",
        b"\x1b]11;rgba:ffff/8080/0000/ffff\x1b\\",
    ] {
        for at in 0..bytes.len() {
            let mut decoder = Decoder::default();
            let mut all = decoder.feed(&bytes[..at]);
            all.extend(decoder.feed(&bytes[at..]));
            let [Report::Ground([r, g, b])] = all.as_slice() else { panic!("{at}: {all:?}") };
            assert!((r - 1.0).abs() < 1e-9 && (g - 0.502).abs() < 0.001 && b.abs() < 1e-9, "{r} {g} {b}");
        }
    }
}

#[test]
fn no_part_of_an_answer_is_ever_a_key() {
    let mut decoder = Decoder::default();
    assert_eq!(decoder.feed(b"\x1b]11;rgb:ff"), []);
    assert!(decoder.is_waiting() && decoder.is_in_answer(), "it is given longer than a key");
    assert_eq!(decoder.feed(b"ff/ffff/ffff"), []);
    assert!(matches!(decoder.feed(b"\x1b\\").as_slice(), [Report::Ground(_)]));
    for odd in [
        "\x1b]11;?\x1b\\",
        "\x1b]11;rgb:zz/00/00\x07",
        "\x1b]10;rgb:ff/ff/ff\x07",
        "\x1b]11;rgb:12345/0/0\x07",
    ] {
        assert_eq!(decoder.feed(odd.as_bytes()), [], "{odd:?}");
    }
    // Cut off for good: given up after the long silence, and keys work again.
    assert_eq!(decoder.feed(b"\x1b]11;rgb:"), []);
    assert_eq!(decoder.settle(), None);
    assert_eq!(decoder.feed(b"q").len(), 1);
    // A string that is none: Alt with a bracket and a person who types on. Ctrl-C counts at once.
    assert_eq!(decoder.feed(b"\x1b]ab"), []);
    assert!(!decoder.is_in_answer());
    assert_eq!(decoder.feed(b"\x03").len(), 1);
    assert_eq!(decoder.feed(b"q").len(), 1);
}
