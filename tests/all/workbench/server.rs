//! The workbench's server over raw TCP: who is answered, what is refused, who may dawdle.
#![cfg(feature = "workbench")]

use std::io::{BufRead as _, BufReader, Read as _, Write as _};
use std::net::TcpStream;
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

use serde_json::{Value, json};

const TERN: &str = include_str!("../../../cases/tern-harbour.toml");

/// A workbench of the built program, ended with the test.
struct Served {
    child: Child,
    port: u16,
}

impl Served {
    fn start() -> Self {
        let mut child = Command::new(env!("CARGO_BIN_EXE_capwright"))
            .args(["workbench", "--port", "0"])
            .stdout(Stdio::piped())
            .spawn()
            .unwrap();
        let mut line = String::new();
        BufReader::new(child.stdout.as_mut().unwrap())
            .read_line(&mut line)
            .unwrap();
        let after = line.split("http://127.0.0.1:").nth(1).expect(&line);
        let port = after.split('/').next().unwrap().parse().unwrap();
        Self { child, port }
    }

    fn connect(&self) -> TcpStream {
        let stream = TcpStream::connect(("127.0.0.1", self.port)).unwrap();
        stream
            .set_read_timeout(Some(Duration::from_mins(1)))
            .unwrap();
        stream
    }

    /// Sends these bytes and reads the whole answer.
    fn raw(&self, request: &[u8]) -> Answer {
        let mut stream = self.connect();
        // The server may answer and close before everything is sent.
        let _ = stream.write_all(request);
        Answer::read(&mut stream)
    }

    fn get(&self, path: &str) -> Answer {
        let port = self.port;
        self.raw(
            format!("GET {path} HTTP/1.1\r\nHost: 127.0.0.1:{port}\r\nConnection: close\r\n\r\n")
                .as_bytes(),
        )
    }

    fn post_as(&self, path: &str, headers: &str, body: &[u8]) -> Answer {
        let port = self.port;
        let mut request = format!(
            "POST {path} HTTP/1.1\r\nHost: localhost:{port}\r\nConnection: close\r\n{headers}Content-Length: {}\r\n\r\n",
            body.len()
        )
        .into_bytes();
        request.extend_from_slice(body);
        self.raw(&request)
    }

    fn post(&self, path: &str, body: &Value) -> Answer {
        self.post_as(
            path,
            "Content-Type: application/json\r\n",
            body.to_string().as_bytes(),
        )
    }
}

impl Drop for Served {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

struct Answer {
    status: u16,
    head: String,
    body: Vec<u8>,
}

impl Answer {
    fn read(stream: &mut TcpStream) -> Self {
        let mut all = Vec::new();
        let _ = stream.read_to_end(&mut all);
        let at = all
            .windows(4)
            .position(|four| four == b"\r\n\r\n")
            .unwrap_or(all.len());
        let head = String::from_utf8_lossy(&all[..at]).into_owned();
        let status = head
            .split(' ')
            .nth(1)
            .and_then(|word| word.parse().ok())
            .unwrap_or(0);
        let body = all.get(at + 4..).unwrap_or_default().to_vec();
        Self { status, head, body }
    }

    fn json(&self) -> Value {
        serde_json::from_slice(&self.body)
            .unwrap_or_else(|error| panic!("{error}: {}", String::from_utf8_lossy(&self.body)))
    }

    fn has(&self, header: &str) -> bool {
        self.head.to_lowercase().contains(&header.to_lowercase())
    }
}

#[test]
fn the_page_and_all_its_files_come_from_the_program() {
    let served = Served::start();
    let page = served.get("/");
    assert_eq!(page.status, 200);
    let html = String::from_utf8(page.body).unwrap();
    assert!(html.contains("I have an old pattern"));
    // Everything the page and its modules name is there, and nothing comes from elsewhere.
    let mut wanted = vec!["look.css".to_owned(), "main.js".to_owned()];
    let mut seen = 0;
    while let Some(name) = wanted.get(seen).cloned() {
        let file = served.get(&format!("/{name}"));
        assert_eq!(file.status, 200, "{name}");
        let text = String::from_utf8(file.body).unwrap();
        for part in text.split(" from \"./").skip(1) {
            let module = part.split('"').next().unwrap().to_owned();
            if !wanted.contains(&module) {
                wanted.push(module);
            }
        }
        assert!(!text.contains("https://"), "{name}");
        seen += 1;
    }
    assert!(seen > 10, "{wanted:?}");
}

#[test]
fn every_answer_locks_the_page_in() {
    let served = Served::start();
    let answers = [
        served.get("/"),
        served.get("/nothing"),
        served.get("/api/start"),
        served.post("/api/check", &json!({ "toml": TERN })),
        served.raw(b"GET / HTTP/1.1\r\nHost: example.org\r\nConnection: close\r\n\r\n"),
    ];
    for answer in answers {
        // Content Security Policy Level 3; the Fetch standard on nosniff.
        assert!(
            answer.has("content-security-policy: default-src 'none'"),
            "{}",
            answer.head
        );
        assert!(answer.has("x-content-type-options: nosniff"));
        assert!(answer.has("cache-control: no-store"));
        assert!(!answer.has("access-control-allow-origin"));
        assert!(!answer.has("unsafe-inline"));
    }
}

#[test]
fn a_foreign_host_is_refused() {
    let served = Served::start();
    let port = served.port;
    for host in [
        "example.org".to_owned(),
        format!("example.org:{port}"),
        "127.0.0.1".to_owned(),
        format!("127.0.0.1.example.org:{port}"),
        format!("127.0.0.1:{}", port.wrapping_add(1)),
        String::new(),
    ] {
        let request = format!("GET / HTTP/1.1\r\nHost: {host}\r\nConnection: close\r\n\r\n");
        // 421 Misdirected Request, RFC 9110 section 15.5.20.
        assert_eq!(served.raw(request.as_bytes()).status, 421, "{host}");
    }
    let two = format!(
        "GET / HTTP/1.1\r\nHost: 127.0.0.1:{port}\r\nHost: example.org\r\nConnection: close\r\n\r\n"
    );
    assert_ne!(served.raw(two.as_bytes()).status, 200);
    let old = b"GET / HTTP/1.0\r\n\r\n";
    assert_eq!(served.raw(old).status, 421);
    assert_eq!(served.get("/").status, 200);
}

#[test]
fn other_pages_cannot_ask() {
    let served = Served::start();
    let body = json!({ "toml": TERN }).to_string();
    let origin = "Content-Type: application/json\r\nOrigin: http://example.org\r\n";
    let other = served.post_as("/api/check", origin, body.as_bytes());
    assert_eq!(other.status, 403);
    // What a form of another page can send without being asked first (Fetch standard,
    // CORS-safelisted content types).
    for kind in [
        "text/plain",
        "application/x-www-form-urlencoded",
        "multipart/form-data",
    ] {
        let header = format!("Content-Type: {kind}\r\n");
        let answer = served.post_as("/api/check", &header, body.as_bytes());
        assert_eq!(answer.status, 415, "{kind}");
    }
    assert_eq!(
        served.post_as("/api/check", "", body.as_bytes()).status,
        415
    );
    let own = format!(
        "Content-Type: application/json; charset=utf-8\r\nOrigin: http://localhost:{}\r\n",
        served.port
    );
    let own = served.post_as("/api/check", &own, body.as_bytes());
    assert_eq!(own.status, 200);
}

#[test]
fn wrong_methods_and_wrong_places() {
    let served = Served::start();
    assert_eq!(served.get("/api/check").status, 405);
    assert_eq!(served.get("/api/convert").status, 405);
    let answer = served.post("/", &json!({}));
    assert_eq!(answer.status, 405);
    assert_eq!(served.post("/api/nothing", &json!({})).status, 404);
    for path in [
        "/../Cargo.toml",
        "/..%2f..%2fetc%2fpasswd",
        "/%2e%2e/Cargo.toml",
        "//etc/passwd",
        "/page/main.js",
        "/main.js/..",
        "/api/../../Cargo.toml",
        "/%00",
    ] {
        let answer = served.get(path);
        let body = String::from_utf8_lossy(&answer.body).into_owned();
        assert!(matches!(answer.status, 400 | 404 | 405), "{path}: {body}");
        assert!(
            !body.contains("capwright\"") && !body.contains("root:"),
            "{path}"
        );
    }
}

#[test]
fn bad_bodies_get_a_sentence() {
    let served = Served::start();
    let kind = "Content-Type: application/json\r\n";
    let nested = format!("{}1{}", "[".repeat(100_000), "]".repeat(100_000));
    let deep = format!(
        "{{\"case\": {}1{}}}",
        "{\"a\":".repeat(5_000),
        "}".repeat(5_000)
    );
    for body in [
        "",
        "{",
        "nonsense",
        "[]",
        "{\"case\": 3}",
        "{\"toml\": {}}",
        "{\"toml\": \"\", \"case\": {}}",
        "{\"toml\": \"\\ud800\"}",
        &nested,
        &deep,
    ] {
        let answer = served.post_as("/api/convert", kind, body.as_bytes());
        let start: String = body.chars().take(30).collect();
        assert_eq!(answer.status, 400, "{start}");
        assert!(answer.json()["error"].as_str().unwrap().ends_with('.'));
    }
    let bytes = served.post_as("/api/convert", kind, b"{\"toml\": \"\xff\xfe\"}");
    assert_eq!(bytes.status, 400);
    let size = served.post("/api/convert", &json!({ "toml": TERN, "size": 7 }));
    assert_eq!(size.status, 400);
    let kind = served.post("/api/file", &json!({ "toml": TERN, "kind": "../x" }));
    assert_eq!(kind.status, 400);
}

#[test]
fn a_body_beyond_the_limit_is_refused() {
    let served = Served::start();
    let big = vec![b' '; 3 * 1024 * 1024];
    let answer = served.post_as("/api/check", "Content-Type: application/json\r\n", &big);
    assert_eq!(answer.status, 413);
    // One that only says so is not waited for.
    let begun = Instant::now();
    let port = served.port;
    let request = format!(
        "POST /api/check HTTP/1.1\r\nHost: 127.0.0.1:{port}\r\nConnection: close\r\nContent-Type: application/json\r\nContent-Length: 99999999999\r\n\r\n"
    );
    assert_eq!(served.raw(request.as_bytes()).status, 413);
    assert!(begun.elapsed() < Duration::from_secs(5));
}

#[test]
fn a_thousand_quick_requests() {
    let served = Served::start();
    let body = json!({ "toml": TERN }).to_string();
    let port = served.port;
    let request = format!(
        "POST /api/read HTTP/1.1\r\nHost: 127.0.0.1:{port}\r\nContent-Type: application/json\r\nContent-Length: {}\r\nConnection: close\r\n\r\n{body}",
        body.len()
    );
    let wanted = served.raw(request.as_bytes()).json();
    std::thread::scope(|scope| {
        for _ in 0..8 {
            scope.spawn(|| {
                for _ in 0..125 {
                    let answer = served.raw(request.as_bytes());
                    assert_eq!(answer.status, 200);
                    assert_eq!(answer.json(), wanted);
                }
            });
        }
    });
    // And as many that go away before they are answered.
    for _ in 0..200 {
        let mut stream = served.connect();
        let half = &request.as_bytes()[..request.len() / 2];
        let _ = stream.write_all(half);
    }
    assert_eq!(served.get("/").status, 200);
}

#[test]
fn a_slow_client_holds_up_nobody_and_is_let_go() {
    let served = Served::start();
    let port = served.port;
    let mut headers = served.connect();
    headers.write_all(b"GET / HTTP/1.1\r\nHost: ").unwrap();
    let mut body = served.connect();
    body.write_all(
        format!(
            "POST /api/check HTTP/1.1\r\nHost: 127.0.0.1:{port}\r\nContent-Type: application/json\r\nContent-Length: 500\r\n\r\n{{"
        )
        .as_bytes(),
    )
    .unwrap();
    let begun = Instant::now();
    assert_eq!(served.get("/").status, 200);
    assert!(begun.elapsed() < Duration::from_secs(5));
    let late = {
        let mut all = [0; 12];
        body.read_exact(&mut all).unwrap();
        String::from_utf8_lossy(&all).into_owned()
    };
    // 408 Request Timeout, RFC 9110 section 15.5.9.
    assert_eq!(late, "HTTP/1.1 408");
    let mut rest = Vec::new();
    let _ = headers.read_to_end(&mut rest);
    assert!(begun.elapsed() < Duration::from_secs(40));
}

#[test]
fn noise_on_the_line_leaves_it_standing() {
    let served = Served::start();
    let port = served.port;
    let mut seed = 7_u64;
    for _ in 0..300 {
        // A linear congruential generator (Knuth's MMIX constants), so that every run is the same.
        let mut noise = Vec::new();
        for _ in 0..=(seed >> 59) * 8 {
            seed = seed
                .wrapping_mul(6_364_136_223_846_793_005)
                .wrapping_add(1_442_695_040_888_963_407);
            noise.extend_from_slice(&seed.to_be_bytes()[..4]);
        }
        let mut stream = served.connect();
        if seed & 1 == 0 {
            let start = format!("POST /api/check HTTP/1.1\r\nHost: 127.0.0.1:{port}\r\n");
            let _ = stream.write_all(start.as_bytes());
        }
        let _ = stream.write_all(&noise);
    }
    assert_eq!(served.get("/").status, 200);
}

#[test]
fn two_at_once_get_their_own_answers() {
    let served = Served::start();
    let cardigan = include_str!("../../../cases/quillam-cardigan.toml");
    std::thread::scope(|scope| {
        for (toml, title) in [
            (TERN, "Tern Harbour pullover"),
            (cardigan, "Quillam cardigan"),
        ] {
            let served = &served;
            scope.spawn(move || {
                for _ in 0..4 {
                    let asked = json!({ "toml": toml, "size": 0 });
                    let answer = served.post("/api/convert", &asked).json();
                    assert_eq!(answer["conversion"]["case"], title);
                }
            });
        }
    });
}

#[cfg(unix)]
#[test]
fn ctrl_c_ends_it_and_nothing_is_left() {
    let folder = tempfile::tempdir().unwrap();
    let mut child = Command::new(env!("CARGO_BIN_EXE_capwright"))
        .args(["workbench", "--port", "0"])
        .current_dir(folder.path())
        .stdout(Stdio::piped())
        .spawn()
        .unwrap();
    let mut line = String::new();
    BufReader::new(child.stdout.as_mut().unwrap())
        .read_line(&mut line)
        .unwrap();
    let pid = child.id().to_string();
    let sent = Command::new("kill").args(["-INT", &pid]).status().unwrap();
    assert!(sent.success());
    let begun = Instant::now();
    let status = child.wait().unwrap();
    assert!(status.success(), "{status}");
    assert!(begun.elapsed() < Duration::from_secs(5));
    assert_eq!(folder.path().read_dir().unwrap().count(), 0);
}

#[test]
fn a_port_that_is_taken_is_said() {
    let served = Served::start();
    let output = Command::new(env!("CARGO_BIN_EXE_capwright"))
        .args(["workbench", "--port", &served.port.to_string()])
        .output()
        .unwrap();
    assert_eq!(output.status.code(), Some(2));
    let said = String::from_utf8(output.stderr).unwrap();
    assert!(said.contains(&format!("port {}", served.port)), "{said}");
}

/// Twelve sizes, as a request that leaves its connection open.
fn heavy(port: u16) -> Vec<u8> {
    let twelve = include_str!("../../data/check/twelve.toml");
    let body = json!({ "toml": twelve }).to_string();
    format!(
        "POST /api/convert HTTP/1.1\r\nHost: 127.0.0.1:{port}\r\nContent-Type: application/json\r\nContent-Length: {}\r\n\r\n{body}",
        body.len()
    )
    .into_bytes()
}

#[test]
fn what_is_light_does_not_wait_behind_what_is_heavy() {
    let served = Served::start();
    let request = heavy(served.port);
    let crowd: Vec<TcpStream> = (0..100)
        .map(|_| {
            let mut stream = served.connect();
            stream.write_all(&request).unwrap();
            stream
        })
        .collect();
    std::thread::sleep(Duration::from_millis(300));
    for (path, body) in [
        ("/api/read", json!({ "toml": TERN })),
        ("/api/check", json!({ "toml": TERN })),
        ("/api/convert", json!({ "toml": TERN, "size": 0 })),
    ] {
        let begun = Instant::now();
        assert_eq!(served.post(path, &body).status, 200, "{path}");
        let took = begun.elapsed();
        assert!(took < Duration::from_secs(1), "{path}: {took:?}");
    }
    let begun = Instant::now();
    assert_eq!(served.get("/api/start").status, 200);
    assert!(begun.elapsed() < Duration::from_secs(1));
    // All of them go away: what they asked for is given up, and the next one has its turn.
    drop(crowd);
    let begun = Instant::now();
    let answer = served.post("/api/convert", &json!({ "toml": TERN }));
    assert_eq!(answer.status, 200);
    let took = begun.elapsed();
    assert!(took < Duration::from_secs(2), "{took:?}");
}

#[test]
fn a_client_that_never_reads_is_dropped() {
    let served = Served::start();
    let port = served.port;
    let mut deaf = served.connect();
    let request = format!("GET /look.css HTTP/1.1\r\nHost: 127.0.0.1:{port}\r\n\r\n").repeat(20);
    let begun = Instant::now();
    deaf.set_write_timeout(Some(Duration::from_secs(1)))
        .unwrap();
    // Sent until nothing more is taken; the system's own buffers hold a few megabytes of answers.
    let mut sent = 0;
    while begun.elapsed() < Duration::from_secs(40) {
        match deaf.write(request.as_bytes()) {
            Ok(bytes) => sent += bytes,
            Err(error) if error.kind() == std::io::ErrorKind::WouldBlock => {}
            // Closed by the server: a broken pipe or a reset.
            Err(_) => break,
        }
        assert!(
            sent < 1 << 26,
            "answers are kept for a client that reads none"
        );
    }
    let took = begun.elapsed();
    assert!(took < Duration::from_secs(30), "{took:?}");
    assert_eq!(served.get("/").status, 200);
}
