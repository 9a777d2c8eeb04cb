//! How large is a picture? Read from the header alone; nothing is decoded.

/// Width and height in pixels of a PNG or JPEG, none for anything else or a broken header.
pub fn size(bytes: &[u8]) -> Option<(u32, u32)> {
    png(bytes).or_else(|| jpeg(bytes))
}

fn png(bytes: &[u8]) -> Option<(u32, u32)> {
    let rest = bytes.strip_prefix(b"\x89PNG\r\n\x1a\n")?;
    if rest.get(4..8)? != b"IHDR" {
        return None;
    }
    let number = |at: usize| Some(u32::from_be_bytes(rest.get(at..at + 4)?.try_into().ok()?));
    Some((number(8)?, number(12)?))
}

fn jpeg(bytes: &[u8]) -> Option<(u32, u32)> {
    let mut rest = bytes.strip_prefix(b"\xff\xd8")?;
    loop {
        let [0xff, marker, high, low, ..] = rest else { return None };
        // A frame header: C0 to CF, but for the three of them that hold tables.
        if matches!(marker, 0xc0..=0xcf) && !matches!(marker, 0xc4 | 0xc8 | 0xcc) {
            let number = |at: usize| {
                Some(u32::from(u16::from_be_bytes([*rest.get(at)?, *rest.get(at + 1)?])))
            };
            return Some((number(7)?, number(5)?));
        }
        rest = rest.get(2 + usize::from(u16::from_be_bytes([*high, *low]))..)?;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_png_says_its_size_in_its_first_chunk() {
        let mut bytes = b"\x89PNG\r\n\x1a\n\0\0\0\x0dIHDR\0\0\x04\x9e\0\0\x04\x38".to_vec();
        assert_eq!(size(&bytes), Some((1182, 1080)));
        bytes.truncate(22);
        assert_eq!(size(&bytes), None);
    }

    #[test]
    fn a_jpeg_says_its_size_in_its_frame_header() {
        let mut bytes =
            b"\xff\xd8\xff\xe0\0\x04ab\xff\xc4\0\x03c\xff\xc2\0\x08\x08\x04\x38\x04\x9e".to_vec();
        assert_eq!(size(&bytes), Some((1182, 1080)));
        bytes.truncate(10);
        assert_eq!(size(&bytes), None);
        assert_eq!(size(b"GIF89a"), None);
    }
}
