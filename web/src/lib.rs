//! The engine of the one-file page: a request in as bytes, its answer out as bytes.
//!
//! A request is one line, what is asked for (`start`, `convert`, `file`, ...), then the body that the
//! server gets by `POST`. An answer is one line of JSON (`status`, `mime`, `file`), then its body. Three
//! exported functions carry them: [`room`] says where to write a request, [`ask`] works it out, and
//! [`answer`] says where its answer lies.

use std::sync::{Mutex, MutexGuard, PoisonError};

use capwright::workbench::{self, Answer};
use serde_json::json;

/// The bytes that go in, and those that come out.
static BYTES: Mutex<(Vec<u8>, Vec<u8>)> = Mutex::new((Vec::new(), Vec::new()));

fn bytes() -> MutexGuard<'static, (Vec<u8>, Vec<u8>)> {
    BYTES.lock().unwrap_or_else(PoisonError::into_inner)
}

/// Makes room for a request of so many bytes and says where.
#[unsafe(no_mangle)]
pub extern "C" fn room(length: usize) -> *mut u8 {
    let mut bytes = bytes();
    bytes.0.clear();
    bytes.0.resize(length, 0);
    bytes.0.as_mut_ptr()
}

/// Works out the request that lies in the room; gives the length of the answer.
#[unsafe(no_mangle)]
pub extern "C" fn ask() -> usize {
    let request = std::mem::take(&mut bytes().0);
    let answer = answered(&request);
    let length = answer.len();
    bytes().1 = answer;
    length
}

/// Where the last answer lies.
#[unsafe(no_mangle)]
pub extern "C" fn answer() -> *const u8 {
    bytes().1.as_ptr()
}

/// The answer to a request, both as bytes: what the exported functions carry.
pub fn answered(request: &[u8]) -> Vec<u8> {
    let cut = request.iter().position(|byte| *byte == b'\n');
    let (what, body) = request.split_at(cut.unwrap_or(request.len()));
    let what = std::str::from_utf8(what).unwrap_or_default();
    let body = body.get(1..).unwrap_or_default();
    let answer = match what {
        "start" => Some(workbench::beginning()),
        _ => workbench::answer(what, body),
    };
    match answer {
        Some(answer) => written(&answer),
        None => b"{\"status\":404}\n".to_vec(),
    }
}

fn written(answer: &Answer) -> Vec<u8> {
    let head = json!({ "status": answer.status, "mime": answer.mime, "file": answer.file });
    let mut out = head.to_string().into_bytes();
    out.push(b'\n');
    out.extend_from_slice(&answer.body);
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_exported_functions_carry_what_the_room_answers() {
        let request = b"read\n{\"toml\": \"title = 'x'\"}";
        assert!(!room(request.len()).is_null());
        bytes().0.copy_from_slice(request);
        let length = ask();
        assert!(!answer().is_null());
        let out = bytes().1.clone();
        assert_eq!(out.len(), length);
        assert_eq!(out, answered(request));
        let (head, body) = out.split_at(out.iter().position(|b| *b == b'\n').unwrap_or(0));
        assert_eq!(
            head,
            b"{\"file\":null,\"mime\":\"application/json\",\"status\":200}"
        );
        let expected = workbench::answer("read", b"{\"toml\": \"title = 'x'\"}");
        assert_eq!(expected.map(|one| one.body).as_deref(), body.get(1..));
        assert_eq!(answered(b"nothing\n{}"), b"{\"status\":404}\n");
        assert!(answered(b"start").starts_with(b"{\"file\":null"));
    }
}
