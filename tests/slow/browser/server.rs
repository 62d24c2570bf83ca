//! A server of a folder's files on this machine.

use std::collections::BTreeMap;
use std::io::{self, Read as _, Write as _};
use std::net::{TcpListener, TcpStream};
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::{fs, thread};

/// A server of a folder's files on this machine, which ends when this is dropped.
pub(super) struct Server {
    pub(super) address: String,
    ends: Arc<AtomicBool>,
    thread: Option<thread::JoinHandle<()>>,
}

impl Server {
    pub(super) fn start(folder: PathBuf) -> Server {
        let listener = TcpListener::bind("127.0.0.1:0").unwrap();
        let address = format!("http://{}", listener.local_addr().unwrap());
        let ends = Arc::new(AtomicBool::new(false));
        let asked = Arc::clone(&ends);
        let files: BTreeMap<String, PathBuf> = below(&folder, &folder).collect();
        let serve = move || {
            for stream in listener.incoming() {
                if asked.load(Ordering::SeqCst) {
                    return;
                }
                let files = files.clone();
                thread::spawn(move || stream.is_ok_and(|stream| answer(stream, &files).is_ok()));
            }
        };
        let thread = Some(thread::spawn(serve));
        Server { address, ends, thread }
    }
}

impl Drop for Server {
    fn drop(&mut self) {
        self.ends.store(true, Ordering::SeqCst);
        drop(TcpStream::connect(self.address.trim_start_matches("http://")));
        self.thread.take().unwrap().join().unwrap();
    }
}

fn below(folder: &Path, root: &Path) -> Box<dyn Iterator<Item = (String, PathBuf)>> {
    let entries: Vec<PathBuf> = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()).collect();
    let root = root.to_owned();
    Box::new(entries.into_iter().flat_map(move |path| match path.is_dir() {
        true => below(&path, &root),
        false => {
            Box::new(std::iter::once((format!("/{}", path.strip_prefix(&root).unwrap().display()), path)))
        }
    }))
}

fn answer(mut stream: TcpStream, files: &BTreeMap<String, PathBuf>) -> io::Result<()> {
    let mut request = Vec::new();
    let mut piece = [0; 1024];
    while !request.windows(4).any(|end| end == b"\r\n\r\n") {
        let length = stream.read(&mut piece)?;
        if length == 0 {
            return Ok(());
        }
        request.extend(&piece[..length]);
    }
    let request = String::from_utf8_lossy(&request).into_owned();
    let path = request.split(' ').nth(1).unwrap_or("/").split('?').next().unwrap_or("/").to_owned();
    let kind = match path.rsplit('.').next() {
        Some("html") => "text/html",
        Some("js") => "text/javascript",
        Some("css") => "text/css",
        _ => "text/plain",
    };
    match files.get(&path).map(fs::read).transpose()? {
        Some(bytes) => {
            write!(
                stream,
                "HTTP/1.1 200 OK\r\nContent-Type: {kind}; charset=utf-8\r\nContent-Length: {}\r\nConnection: close\r\n\r\n",
                bytes.len()
            )?;
            stream.write_all(&bytes)
        }
        None => write!(stream, "HTTP/1.1 404 Not Found\r\nContent-Length: 0\r\nConnection: close\r\n\r\n"),
    }
}
