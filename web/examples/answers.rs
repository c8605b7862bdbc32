//! Answers requests from standard input natively, so that `compare.mjs` can hold the browser's engine
//! against them: frames of a length (four bytes, little-endian) and so many bytes, in and out.

use std::io::{self, Read as _, Write as _};

fn main() -> io::Result<()> {
    let (mut asked, mut out) = (io::stdin().lock(), io::stdout().lock());
    let mut length = [0; 4];
    while asked.read_exact(&mut length).is_ok() {
        let mut request = vec![0; u32::from_le_bytes(length) as usize];
        asked.read_exact(&mut request)?;
        let answer = capwright_web::answered(&request);
        let length = u32::try_from(answer.len()).map_err(io::Error::other)?;
        out.write_all(&length.to_le_bytes())?;
        out.write_all(&answer)?;
    }
    out.flush()
}
