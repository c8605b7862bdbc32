//! Lines of a stream, none of them kept beyond a limit.

use std::io::{self, BufRead, Read as _};

/// A line that was longer than allowed: read to its end, but not kept.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct TooLong;

/// The next line of at most so many bytes, with its end and without a byte order mark; `None` at the
/// end.
pub(super) fn next_line(
    file: &mut (impl BufRead + ?Sized),
    most: usize,
) -> io::Result<Option<Result<Vec<u8>, TooLong>>> {
    let mut line = Vec::new();
    let limit = most as u64 + 1;
    if (&mut *file).take(limit).read_until(b'\n', &mut line)? == 0 {
        return Ok(None);
    }
    if line.ends_with(b"\n") || line.len() <= most {
        if line.starts_with(b"\xef\xbb\xbf") {
            line.drain(..3);
        }
        return Ok(Some(Ok(line)));
    }
    skip_line(file)?;
    Ok(Some(Err(TooLong)))
}

/// Reads on to the end of the line and forgets it.
fn skip_line(file: &mut (impl BufRead + ?Sized)) -> io::Result<()> {
    loop {
        let rest = file.fill_buf()?;
        let end = rest.iter().position(|byte| *byte == b'\n');
        let used = end.map_or(rest.len(), |end| end + 1);
        let over = end.is_some() || rest.is_empty();
        file.consume(used);
        if over {
            return Ok(());
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const MOST: usize = 40;

    fn all(bytes: &[u8]) -> Vec<Result<Vec<u8>, TooLong>> {
        let mut file = bytes;
        std::iter::from_fn(|| next_line(&mut file, MOST).unwrap()).collect()
    }

    #[test]
    fn lines_end_where_they_end() {
        assert!(all(b"").is_empty());
        let lines = all(b"\xef\xbb\xbfone\r\n\ntwo");
        let wanted: [&[u8]; 3] = [b"one\r\n", b"\n", b"two"];
        assert_eq!(lines, wanted.map(|line| Ok(line.to_vec())));
    }

    #[test]
    fn a_line_too_long_is_passed_over_whole() {
        let mut text = vec![b'x'; 3 * MOST];
        text.extend(b"\nnext\n");
        assert_eq!(all(&text), [Err(TooLong), Ok(b"next\n".to_vec())]);
        let mut just = vec![b'x'; MOST];
        just.push(b'\n');
        assert_eq!(all(&just), [Ok(just.clone())]);
    }
}
