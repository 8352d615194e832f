//! Photos and scans: bytes of PNG and JPEG to a picture in linear light. Opens no files, knows no swatches.
//!
//! A picture is decoded within limits, its embedded profile honoured, its turn undone, transparency laid on white,
//! and it is made smaller to what the colour reader works on, in light, so that averages are true.

use super::profile::Profile;
use crate::domain::colour::photo::picture::{LONGEST, Picture};
use image::{DynamicImage, ImageDecoder, ImageFormat, ImageReader, Limits};
use std::io::Cursor;

/// The largest file that is read.
pub const MOST_BYTES: usize = 100_000_000;
/// The longest side that is read, pixels.
const MOST_SIDE: u32 = 20_000;
/// The most pixels that are read.
const MOST_PIXELS: u64 = 120_000_000;
/// The most memory the decoder may ask for.
const MOST_MEMORY: u64 = 1_000_000_000;

/// Why bytes are no picture to read colours from.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum ImageError {
    /// Neither PNG nor JPEG.
    #[error("neither a PNG nor a JPEG picture; export it as JPEG or PNG")]
    Format,
    /// More than can be handled.
    #[error("the picture is too large ({0}); export it at no more than 120 megapixels and 100 MB")]
    TooLarge(String),
    /// The bytes say PNG or JPEG but cannot be decoded.
    #[error("the picture is broken ({0}); export it once more as JPEG or PNG")]
    Broken(String),
}

/// A picture and whether its profile could be used.
#[derive(Clone, Debug, PartialEq)]
pub struct Read {
    /// The picture, no side longer than the colour reader works on.
    pub picture: Picture,
    /// True where a profile was embedded that is not understood; the picture was then read as sRGB.
    pub profile_passed_over: bool,
}

/// Reads a PNG or JPEG picture.
///
/// # Errors
/// A sentence where the bytes are of another format, broken, or too many.
pub fn read(bytes: &[u8]) -> Result<Read, ImageError> {
    if bytes.len() > MOST_BYTES {
        return Err(ImageError::TooLarge(format!("{} MB", bytes.len() / 1_000_000)));
    }
    let Ok(format @ (ImageFormat::Png | ImageFormat::Jpeg)) = image::guess_format(bytes) else {
        return Err(ImageError::Format);
    };
    if format == ImageFormat::Jpeg && !jpeg_ends(bytes) {
        return Err(ImageError::Broken(
            "it is cut short, its last part is missing: copy it once more".to_owned(),
        ));
    }
    let broken = |e: image::ImageError| ImageError::Broken(e.to_string());
    let mut reader = ImageReader::with_format(Cursor::new(bytes), format);
    let mut limits = Limits::default();
    limits.max_image_width = Some(MOST_SIDE);
    limits.max_image_height = Some(MOST_SIDE);
    limits.max_alloc = Some(MOST_MEMORY);
    reader.limits(limits);
    let mut decoder = reader.into_decoder().map_err(broken)?;
    let (width, height) = decoder.dimensions();
    if u64::from(width) * u64::from(height) > MOST_PIXELS {
        return Err(ImageError::TooLarge(format!("{width} x {height} pixels")));
    }
    let embedded = decoder.icc_profile().ok().flatten();
    let turn = decoder.orientation().ok();
    let mut decoded = DynamicImage::from_decoder(decoder).map_err(broken)?;
    if let Some(turn) = turn {
        decoded.apply_orientation(turn);
    }
    let known = embedded.as_deref().and_then(Profile::read);
    let profile_passed_over = embedded.is_some() && known.is_none();
    let picture = shrink(&decoded, &known.unwrap_or_default())
        .ok_or_else(|| ImageError::Broken("it holds no pixels".into()))?;
    Ok(Read { picture, profile_passed_over })
}

/// The picture in light, each pixel the mean of a square of the original's.
fn shrink(decoded: &DynamicImage, profile: &Profile) -> Option<Picture> {
    let (width, height) = (decoded.width() as usize, decoded.height() as usize);
    let step = width.max(height).div_ceil(LONGEST).max(1);
    let (across, down) = (width.div_ceil(step), height.div_ceil(step));
    let mut sums = vec![[0.0; 3]; across * down];
    let mut counts = vec![0_u32; across * down];
    let mut add = |x: usize, y: usize, light: [f64; 3]| {
        let place = (y / step) * across + x / step;
        for (sum, value) in sums[place].iter_mut().zip(light) {
            *sum += value;
        }
        counts[place] += 1;
    };
    let deep = matches!(
        decoded,
        DynamicImage::ImageRgb16(_)
            | DynamicImage::ImageRgba16(_)
            | DynamicImage::ImageLuma16(_)
            | DynamicImage::ImageLumaA16(_)
    );
    if deep {
        for (x, y, pixel) in decoded.to_rgba16().enumerate_pixels() {
            let [r, g, b, a] = pixel.0.map(|v| f64::from(v) / 65_535.0);
            add(x as usize, y as usize, on_white(profile.light([r, g, b]), a));
        }
    } else if decoded.color().has_alpha() {
        for (x, y, pixel) in decoded.to_rgba8().enumerate_pixels() {
            let [r, g, b, a] = pixel.0.map(|v| f64::from(v) / 255.0);
            add(x as usize, y as usize, on_white(profile.light([r, g, b]), a));
        }
    } else {
        for (x, y, pixel) in decoded.to_rgb8().enumerate_pixels() {
            add(x as usize, y as usize, profile.light(pixel.0.map(|v| f64::from(v) / 255.0)));
        }
    }
    let light = sums.iter().zip(&counts).map(|(sum, n)| sum.map(|v| v / f64::from((*n).max(1)))).collect();
    Picture::new(across, down, light)
}

fn on_white(light: [f64; 3], cover: f64) -> [f64; 3] {
    light.map(|v| v * cover + (1.0 - cover))
}

/// True where a JPEG goes on to its end mark (ITU-T T.81, B.1.1.3): in the coded part `FF D9` stands nowhere else. A small
/// picture inside the head has marks of its own, so the head is walked over.
fn jpeg_ends(bytes: &[u8]) -> bool {
    let mut at = 2;
    while let Some([0xff, marker, high, low]) =
        bytes.get(at..at + 4).and_then(|b| <[u8; 4]>::try_from(b).ok())
    {
        if marker == 0xff {
            at += 1;
            continue;
        }
        at += 2 + usize::from(u16::from_be_bytes([high, low]));
        if marker == 0xda {
            break;
        }
    }
    bytes.get(at..).is_some_and(|rest| rest.windows(2).any(|pair| pair == [0xff, 0xd9]))
}

#[cfg(test)]
mod tests {
    use image::{ExtendedColorType, ImageEncoder, codecs::jpeg::JpegEncoder, codecs::png::PngEncoder};

    fn png(width: u32, height: u32, colour: [u8; 3]) -> Vec<u8> {
        let pixels = colour.repeat((width * height) as usize);
        let mut bytes = Vec::new();
        PngEncoder::new(&mut bytes).write_image(&pixels, width, height, ExtendedColorType::Rgb8).unwrap();
        bytes
    }

    #[test]
    fn png_and_jpeg_come_out_in_light() {
        let read = super::read(&png(30, 20, [255, 128, 0])).unwrap();
        assert_eq!((read.picture.width, read.picture.height), (30, 20));
        let [r, g, b] = read.picture.light[7];
        assert!((r - 1.0).abs() < 1e-9 && (g - 0.2158).abs() < 1e-3 && b.abs() < 1e-9);
        let mut bytes = Vec::new();
        JpegEncoder::new(&mut bytes).write_image(&[90; 48], 4, 4, ExtendedColorType::Rgb8).unwrap();
        assert!((super::read(&bytes).unwrap().picture.light[0][1] - 0.1022).abs() < 5e-3);
    }

    #[test]
    fn a_large_picture_is_made_smaller() {
        let read = super::read(&png(1500, 40, [10, 200, 90])).unwrap();
        assert_eq!((read.picture.width, read.picture.height), (500, 14));
        let [first, last] = [0, 6999].map(|i: usize| read.picture.light[i]);
        assert!(first.iter().zip(last).all(|(a, b)| (a - b).abs() < 1e-12));
    }

    #[test]
    fn other_formats_are_told_what_would_do() {
        let refusal = |bytes: &[u8]| super::read(bytes).unwrap_err().to_string();
        assert!(refusal(b"GIF89a....").ends_with("export it as JPEG or PNG"));
        assert!(refusal(b"").ends_with("export it as JPEG or PNG"));
        assert!(refusal(b"%PDF-1.7").ends_with("export it as JPEG or PNG"));
    }

    #[test]
    fn broken_files_are_refused_and_never_panicked_on() {
        let whole = png(9, 7, [1, 2, 3]);
        for length in 0..whole.len() - 12 {
            assert!(super::read(&whole[..length]).is_err(), "{length}");
        }
        for at in 0..whole.len() {
            let mut bytes = whole.clone();
            bytes[at] ^= 0x55;
            let _ = super::read(&bytes);
        }
        // A head that promises more than can be held.
        let mut huge = whole;
        huge[16..24].copy_from_slice(&[0x7f; 8]);
        assert!(super::read(&huge).is_err());
    }
}
