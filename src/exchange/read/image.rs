//! Photos and scans: bytes of PNG and JPEG to a picture in linear light. Opens no files, knows no swatches.
//!
//! A picture is decoded within limits, its embedded profile honoured, its turn undone, transparency laid on white,
//! and it is made smaller to what the colour reader works on, in light, so that averages are true.

use super::profile::Profile;
use crate::domain::colour::photo::picture::{LONGEST, Picture};
use image::metadata::Orientation;
use image::{DynamicImage, ImageDecoder, ImageFormat, ImageReader, Limits};
use std::io::Cursor;

/// The largest file that is read.
pub const MOST_BYTES: usize = 40_000_000;
/// The longest side that is read, pixels.
const MOST_SIDE: u32 = 20_000;
/// The most memory that the pixels may take while they are read: 60 megapixels of eight bits.
const MOST_MEMORY: u64 = 180_000_000;

/// Why bytes are no picture to read colours from.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum ImageError {
    /// Neither PNG nor JPEG.
    #[error("neither a PNG nor a JPEG picture; export it as JPEG or PNG")]
    Format,
    /// More than can be handled.
    #[error("the picture is too large ({0}); export it smaller, 20 megapixels are plenty and 40 MB the most")]
    TooLarge(String),
    /// The bytes say PNG or JPEG but cannot be decoded.
    #[error("the picture is broken ({0}); export it once more as JPEG or PNG")]
    Broken(String),
}

/// A picture and whether its profile could be used.
#[derive(Clone, Debug, PartialEq)]
pub struct ReadImage {
    /// The picture, no side longer than the colour reader works on.
    pub picture: Picture,
    /// True where a profile was embedded that is not understood; the picture was then read as sRGB.
    pub profile_passed_over: bool,
}

/// Reads a PNG or JPEG picture.
///
/// # Errors
/// A sentence where the bytes are of another format, broken, or too many.
pub fn read(bytes: &[u8]) -> Result<ReadImage, ImageError> {
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
    // A picture that comes in passes is held twice over: as numbers of two bytes, and as pixels.
    let held = decoder.total_bytes().saturating_mul(if is_progressive(bytes) { 3 } else { 1 });
    if held > MOST_MEMORY {
        let takes = held / 1_000_000;
        return Err(ImageError::TooLarge(format!("{width} x {height} pixels take {takes} MB to read")));
    }
    let embedded = decoder.icc_profile().ok().flatten();
    let turn = decoder.orientation().unwrap_or(Orientation::NoTransforms);
    let decoded = DynamicImage::from_decoder(decoder).map_err(broken)?;
    let known = embedded.as_deref().and_then(Profile::read);
    let profile_passed_over = embedded.is_some() && known.is_none();
    let picture = shrink(&decoded, turn, &known.unwrap_or_default())
        .ok_or_else(|| ImageError::Broken("it holds no pixels".into()))?;
    Ok(ReadImage { picture, profile_passed_over })
}

/// The picture in light and the right way up, each pixel the mean of a square of the original's. Reads the pixels where they
/// are: a second copy of them would be as large as the first.
fn shrink(decoded: &DynamicImage, turn: Orientation, profile: &Profile) -> Option<Picture> {
    let size @ (stored_width, stored_height) = (decoded.width() as usize, decoded.height() as usize);
    let (width, height) = if is_on_its_side(turn) { (stored_height, stored_width) } else { size };
    let step = width.max(height).div_ceil(LONGEST).max(1);
    let (across, down) = (width.div_ceil(step), height.div_ceil(step));
    let mut sums = vec![[0.0; 3]; across * down];
    let mut counts = vec![0_u32; across * down];
    let mut add = |x: u32, y: u32, values: [f64; 3], cover: f64| {
        let (x, y) = upright((x as usize, y as usize), size, turn);
        let place = (y / step) * across + x / step;
        for (sum, value) in sums[place].iter_mut().zip(on_white(profile.light(values), cover)) {
            *sum += value;
        }
        counts[place] += 1;
    };
    let eight = |v: u8| f64::from(v) / 255.0;
    let sixteen = |v: u16| f64::from(v) / 65_535.0;
    match decoded {
        DynamicImage::ImageRgb8(all) => {
            all.enumerate_pixels().for_each(|(x, y, p)| add(x, y, p.0.map(eight), 1.0));
        }
        DynamicImage::ImageRgba8(all) => all.enumerate_pixels().for_each(|(x, y, p)| {
            let [r, g, b, a] = p.0.map(eight);
            add(x, y, [r, g, b], a);
        }),
        DynamicImage::ImageLuma8(all) => {
            all.enumerate_pixels().for_each(|(x, y, p)| add(x, y, [eight(p.0[0]); 3], 1.0));
        }
        DynamicImage::ImageLumaA8(all) => {
            all.enumerate_pixels().for_each(|(x, y, p)| add(x, y, [eight(p.0[0]); 3], eight(p.0[1])));
        }
        DynamicImage::ImageRgb16(all) => {
            all.enumerate_pixels().for_each(|(x, y, p)| add(x, y, p.0.map(sixteen), 1.0));
        }
        DynamicImage::ImageRgba16(all) => all.enumerate_pixels().for_each(|(x, y, p)| {
            let [r, g, b, a] = p.0.map(sixteen);
            add(x, y, [r, g, b], a);
        }),
        DynamicImage::ImageLuma16(all) => {
            all.enumerate_pixels().for_each(|(x, y, p)| add(x, y, [sixteen(p.0[0]); 3], 1.0));
        }
        DynamicImage::ImageLumaA16(all) => {
            all.enumerate_pixels().for_each(|(x, y, p)| add(x, y, [sixteen(p.0[0]); 3], sixteen(p.0[1])));
        }
        // No other sort comes out of a PNG or a JPEG.
        other => other.to_rgb8().enumerate_pixels().for_each(|(x, y, p)| add(x, y, p.0.map(eight), 1.0)),
    }
    let light = sums.iter().zip(&counts).map(|(sum, n)| sum.map(|v| v / f64::from((*n).max(1)))).collect();
    Picture::new(across, down, light)
}

/// True where width and height change places.
fn is_on_its_side(turn: Orientation) -> bool {
    use Orientation::{Rotate90, Rotate90FlipH, Rotate270, Rotate270FlipH};
    matches!(turn, Rotate90 | Rotate270 | Rotate90FlipH | Rotate270FlipH)
}

/// Where a stored pixel comes to lie once the picture is turned as its maker says.
fn upright((x, y): (usize, usize), (width, height): (usize, usize), turn: Orientation) -> (usize, usize) {
    let (from_right, from_foot) = (width - 1 - x, height - 1 - y);
    match turn {
        Orientation::NoTransforms => (x, y),
        Orientation::Rotate90 => (from_foot, x),
        Orientation::Rotate180 => (from_right, from_foot),
        Orientation::Rotate270 => (y, from_right),
        Orientation::FlipHorizontal => (from_right, y),
        Orientation::FlipVertical => (x, from_foot),
        Orientation::Rotate90FlipH => (y, x),
        Orientation::Rotate270FlipH => (from_foot, from_right),
    }
}

fn on_white(light: [f64; 3], cover: f64) -> [f64; 3] {
    light.map(|v| v * cover + (1.0 - cover))
}

/// True where a JPEG goes on to its end mark (ITU-T T.81, B.1.1.3): in the coded part `FF D9` stands nowhere else. A small
/// picture inside the head has marks of its own, so the head is walked over.
fn jpeg_ends(bytes: &[u8]) -> bool {
    let (at, _) = head_of_jpeg(bytes);
    bytes.get(at..).is_some_and(|rest| rest.windows(2).any(|pair| pair == [0xff, 0xd9]))
}

/// True for a JPEG whose frame is coded in passes (ITU-T T.81, table B.1: SOF2).
fn is_progressive(bytes: &[u8]) -> bool {
    bytes.starts_with(&[0xff, 0xd8]) && head_of_jpeg(bytes).1
}

/// Where the coded part begins, and whether it is coded in passes.
fn head_of_jpeg(bytes: &[u8]) -> (usize, bool) {
    let (mut at, mut in_passes) = (2, false);
    while let Some([0xff, marker, high, low]) =
        bytes.get(at..at + 4).and_then(|b| <[u8; 4]>::try_from(b).ok())
    {
        if marker == 0xff {
            at += 1;
            continue;
        }
        at += 2 + usize::from(u16::from_be_bytes([high, low]));
        in_passes |= marker == 0xc2;
        if marker == 0xda {
            break;
        }
    }
    (at, in_passes)
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
    fn a_pixel_comes_to_lie_where_turning_the_picture_puts_it() {
        use image::metadata::Orientation;
        for exif in 1..=8_u8 {
            let turn = Orientation::from_exif(exif).unwrap();
            let mut picture = image::DynamicImage::new_luma8(5, 3);
            let image::DynamicImage::ImageLuma8(pixels) = &mut picture else { panic!("grey") };
            pixels.enumerate_pixels_mut().for_each(|(x, y, p)| p.0 = [(y * 5 + x) as u8]);
            let stored = pixels.clone();
            picture.apply_orientation(turn);
            assert_eq!(picture.width() == 3, super::is_on_its_side(turn));
            for (x, y, pixel) in stored.enumerate_pixels() {
                let (x, y) = super::upright((x as usize, y as usize), (5, 3), turn);
                let turned = picture.as_luma8().unwrap();
                assert_eq!(turned.get_pixel(x as u32, y as u32), pixel, "{exif}");
            }
        }
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
