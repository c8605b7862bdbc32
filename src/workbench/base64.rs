//! Base64 (RFC 4648): how the page sends the bytes of a file within JSON.

/// The bytes; nothing when a letter is not of the alphabet or the length is none.
pub(super) fn bytes(text: &str) -> Option<Vec<u8>> {
    let text = text.trim_end_matches('=');
    if text.len() % 4 == 1 {
        return None;
    }
    let mut out = Vec::with_capacity(text.len() / 4 * 3 + 2);
    for four in text.as_bytes().chunks(4) {
        let mut bits = 0_u32;
        for &letter in four {
            bits = bits << 6 | value(letter)?;
        }
        bits <<= 6 * (4 - four.len());
        let [_, three @ ..] = bits.to_be_bytes();
        out.extend(three.iter().take(four.len() - 1));
    }
    Some(out)
}

fn value(letter: u8) -> Option<u32> {
    Some(u32::from(match letter {
        b'A'..=b'Z' => letter - b'A',
        b'a'..=b'z' => letter - b'a' + 26,
        b'0'..=b'9' => letter - b'0' + 52,
        b'+' => 62,
        b'/' => 63,
        _ => return None,
    }))
}

#[cfg(test)]
mod tests {
    use super::bytes;

    /// RFC 4648, section 10.
    #[test]
    fn test_vectors_of_the_standard() {
        for (text, wanted) in [
            ("", ""),
            ("Zg==", "f"),
            ("Zm8=", "fo"),
            ("Zm9v", "foo"),
            ("Zm9vYg==", "foob"),
            ("Zm9vYmE=", "fooba"),
            ("Zm9vYmFy", "foobar"),
        ] {
            assert_eq!(bytes(text).as_deref(), Some(wanted.as_bytes()), "{text}");
        }
        assert_eq!(bytes("Zm9v!"), None);
        assert_eq!(bytes("\u{bd}"), None);
        assert_eq!(bytes("Zm9vY"), None);
    }
}
