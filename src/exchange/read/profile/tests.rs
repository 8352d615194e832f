use super::*;

/// A matrix profile put together by the standard's layout: header, tag table, tags.
fn profile(primaries: [[f64; 3]; 3], curve: &[u8]) -> Vec<u8> {
    let fixed = |v: f64| ((v * 65_536.0).round() as i32).to_be_bytes();
    let mut tags: Vec<([u8; 4], Vec<u8>)> = Vec::new();
    for (name, xyz) in [*b"rXYZ", *b"gXYZ", *b"bXYZ"].into_iter().zip(primaries) {
        let mut bytes = b"XYZ \0\0\0\0".to_vec();
        bytes.extend(xyz.iter().flat_map(|v| fixed(*v)));
        tags.push((name, bytes));
    }
    for name in [*b"rTRC", *b"gTRC", *b"bTRC"] {
        tags.push((name, curve.to_vec()));
    }
    let mut bytes = vec![0; 128];
    // Version 4.3, a display, its colours and those it is told in, and the sign of every profile.
    bytes[8..24].copy_from_slice(b"\x04\x30\0\0mntrRGB XYZ ");
    bytes[36..40].copy_from_slice(b"acsp");
    bytes.extend((tags.len() as u32).to_be_bytes());
    let mut at = 132 + 12 * tags.len();
    for (name, tag) in &tags {
        bytes.extend(name);
        bytes.extend((at as u32).to_be_bytes());
        bytes.extend((tag.len() as u32).to_be_bytes());
        at += tag.len();
    }
    bytes.extend(tags.iter().flat_map(|(_, tag)| tag));
    bytes
}

/// Primaries of sRGB under D50 as every sRGB profile carries them (ICC, sRGB profile; from memory, four decimals).
const SRGB: [[f64; 3]; 3] = [[0.4361, 0.2225, 0.0139], [0.3851, 0.7169, 0.0971], [0.1431, 0.0606, 0.7141]];

fn gamma(power: f64) -> Vec<u8> {
    let mut bytes = b"curv\0\0\0\0\0\0\0\x01".to_vec();
    bytes.extend(((power * 256.0) as u16).to_be_bytes());
    bytes
}

#[test]
fn the_profile_of_srgb_changes_next_to_nothing() {
    let read = Profile::read(&profile(SRGB, &gamma(1.0))).unwrap();
    for light in [[1.0, 0.0, 0.0], [0.2, 0.5, 0.9], [1.0, 1.0, 1.0]] {
        for (got, want) in read.light(light).iter().zip(light) {
            assert!((got - want).abs() < 2e-3, "{got} {want}");
        }
    }
}

#[test]
fn a_wider_space_is_honoured() {
    // Primaries further out: the same numbers mean stronger colours.
    let wide = [[0.6097, 0.3111, 0.0195], [0.2053, 0.6257, 0.0609], [0.1492, 0.0632, 0.7446]];
    let read = Profile::read(&profile(wide, &gamma(2.199_218_75))).unwrap();
    let light = read.light([0.2, 0.8, 0.2]);
    assert!(light[0] < 0.0 && light[1] > 0.5, "{light:?}");
    let grey = read.light([0.5; 3]);
    assert!((grey[0] - 0.5_f64.powf(2.199)).abs() < 3e-3, "{grey:?}");
}

#[test]
fn the_formula_of_srgb_is_its_curve() {
    let mut para = b"para\0\0\0\0\0\x03\0\0".to_vec();
    for v in [2.4, 1.0 / 1.055, 0.055 / 1.055, 1.0 / 12.92, 0.040_45] {
        para.extend(((v * 65_536.0_f64).round() as i32).to_be_bytes());
    }
    let read = Profile::read(&profile(SRGB, &para)).unwrap();
    for v in [0.01, 0.1, 0.5, 0.9] {
        assert!((between(&read.curves[0], v) - decode(v)).abs() < 1e-4);
    }
}

#[test]
fn every_cut_and_every_changed_byte_is_survived() {
    let whole = profile(SRGB, &gamma(2.2));
    for length in 0..whole.len() {
        assert!(Profile::read(&whole[..length]).is_none());
    }
    for at in 0..whole.len() {
        for value in [0, 0x7f, 0xff] {
            let mut bytes = whole.clone();
            bytes[at] = value;
            let _ = Profile::read(&bytes);
        }
    }
}
