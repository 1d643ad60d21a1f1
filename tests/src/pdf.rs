//! Reads the text of the PDF files this project writes, with nothing but a decompressor:
//! pages in order, each text in the order drawn, through each font's table to Unicode.

use std::collections::BTreeMap;
use std::io::Read as _;

/// The texts of one page.
pub type Page = Vec<String>;

/// An object of the file: its dictionary as text, and its stream.
struct Object {
    dictionary: String,
    stream: Vec<u8>,
}

fn find(bytes: &[u8], what: &[u8], from: usize) -> Option<usize> {
    bytes
        .get(from..)?
        .windows(what.len())
        .position(|w| w == what)
        .map(|p| p + from)
}

fn objects(bytes: &[u8]) -> BTreeMap<u32, Object> {
    let mut found = BTreeMap::new();
    let mut at = 0;
    while let Some(start) = find(bytes, b" 0 obj\n", at) {
        let digits = bytes[..start]
            .iter()
            .rev()
            .take_while(|b| b.is_ascii_digit())
            .count();
        let number: u32 = String::from_utf8_lossy(&bytes[start - digits..start])
            .parse()
            .unwrap();
        let body = start + b" 0 obj\n".len();
        let end = find(bytes, b"endobj", body).unwrap();
        let stream_at = find(bytes, b"stream\n", body).filter(|s| *s < end);
        let object = if let Some(s) = stream_at {
            let dictionary = String::from_utf8_lossy(&bytes[body..s]).into_owned();
            let length: usize = value(&dictionary, "/Length").unwrap().parse().unwrap();
            let data = s + b"stream\n".len();
            let raw = &bytes[data..data + length];
            let mut stream = Vec::new();
            if dictionary.contains("/FlateDecode") {
                let mut packed = flate2::read::ZlibDecoder::new(raw);
                packed.read_to_end(&mut stream).unwrap();
            } else {
                stream.extend_from_slice(raw);
            }
            at = data + length;
            Object { dictionary, stream }
        } else {
            at = end;
            Object {
                dictionary: String::from_utf8_lossy(&bytes[body..end]).into_owned(),
                stream: Vec::new(),
            }
        };
        found.insert(number, object);
    }
    found
}

/// The word after a key of a dictionary.
fn value<'a>(dictionary: &'a str, key: &str) -> Option<&'a str> {
    let at = dictionary.find(key)? + key.len();
    let rest = dictionary[at..].trim_start();
    let end = rest
        .find(|c: char| !(c.is_ascii_alphanumeric() || c == '.' || c == '-'))
        .unwrap_or(rest.len());
    Some(&rest[..end])
}

/// Glyph to text, from a font's table.
fn to_unicode(stream: &[u8]) -> BTreeMap<u16, String> {
    let text = String::from_utf8_lossy(stream);
    let mut map = BTreeMap::new();
    let hex = |s: &str| s.trim_matches(['<', '>']).to_owned();
    let word = |h: &str| -> Vec<u16> {
        h.as_bytes()
            .chunks(4)
            .map(|c| u16::from_str_radix(std::str::from_utf8(c).unwrap(), 16).unwrap())
            .collect()
    };
    let mut mode = "";
    for line in text.lines() {
        let line = line.trim();
        if line.ends_with("beginbfchar") {
            mode = "char";
        } else if line.ends_with("beginbfrange") {
            mode = "range";
        } else if line.starts_with("endbf") {
            mode = "";
        } else if !mode.is_empty() {
            let parts: Vec<String> = line.split_whitespace().map(hex).collect();
            let first = word(&parts[0])[0];
            if mode == "char" {
                map.insert(first, String::from_utf16(&word(&parts[1])).unwrap());
            } else {
                let last = word(&parts[1])[0];
                let mut to = word(&parts[2]);
                for glyph in first..=last {
                    map.insert(glyph, String::from_utf16(&to).unwrap());
                    *to.last_mut().unwrap() += 1;
                }
            }
        }
    }
    map
}

/// The bytes of a string in a content stream, and where it ends.
fn string(content: &[u8], at: usize) -> (Vec<u8>, usize) {
    let mut out = Vec::new();
    let mut i = at + 1;
    if content[at] == b'<' {
        let end = find(content, b">", i).unwrap();
        let digits: Vec<u8> = content[i..end].to_vec();
        for pair in digits.chunks(2) {
            out.push(u8::from_str_radix(std::str::from_utf8(pair).unwrap(), 16).unwrap());
        }
        return (out, end + 1);
    }
    let mut depth = 1;
    while depth > 0 {
        match content[i] {
            b'\\' => {
                i += 1;
                match content[i] {
                    b'n' => out.push(b'\n'),
                    b'r' => out.push(b'\r'),
                    b't' => out.push(b'\t'),
                    b'b' => out.push(8),
                    b'f' => out.push(12),
                    c @ b'0'..=b'7' => {
                        let mut code = u32::from(c - b'0');
                        for _ in 0..2 {
                            if let d @ b'0'..=b'7' = content[i + 1] {
                                code = code * 8 + u32::from(d - b'0');
                                i += 1;
                            }
                        }
                        out.push(code as u8);
                    }
                    c => out.push(c),
                }
            }
            b'(' => {
                depth += 1;
                out.push(b'(');
            }
            b')' => {
                depth -= 1;
                if depth > 0 {
                    out.push(b')');
                }
            }
            c => out.push(c),
        }
        i += 1;
    }
    (out, i)
}

/// The texts of every page.
pub fn pages(bytes: &[u8]) -> Vec<Page> {
    let objects = objects(bytes);
    let tree = objects
        .values()
        .find(|o| o.dictionary.contains("/Type/Pages"))
        .unwrap();
    let kids = tree.dictionary.split("/Kids[").nth(1).unwrap();
    let kids = kids.split(']').next().unwrap();
    let references = |text: &str| -> Vec<u32> {
        text.split(" 0 R")
            .filter_map(|p| p.split_whitespace().last()?.parse().ok())
            .collect()
    };
    references(kids)
        .into_iter()
        .map(|page| {
            let dictionary = &objects[&page].dictionary;
            let resources = value(dictionary, "/Resources").unwrap().parse().unwrap();
            let resources: u32 = resources;
            let fonts = objects[&resources]
                .dictionary
                .split("/Font<<")
                .nth(1)
                .unwrap()
                .split(">>")
                .next()
                .unwrap()
                .to_owned();
            let tables: BTreeMap<String, BTreeMap<u16, String>> = fonts
                .split(" 0 R")
                .filter(|f| !f.is_empty())
                .map(|f| {
                    let (name, number) = f.trim().rsplit_once(' ').unwrap();
                    let font = &objects[&number.parse::<u32>().unwrap()].dictionary;
                    let table = value(font, "/ToUnicode").unwrap().parse().unwrap();
                    (name.to_owned(), to_unicode(&objects[&table].stream))
                })
                .collect();
            let contents: u32 = value(dictionary, "/Contents").unwrap().parse().unwrap();
            texts(&objects[&contents].stream, &tables)
        })
        .collect()
}

fn texts(content: &[u8], fonts: &BTreeMap<String, BTreeMap<u16, String>>) -> Page {
    let mut page = Vec::new();
    let mut font = None;
    let mut text = String::new();
    let mut i = 0;
    let mut word = String::new();
    let mut last_name = String::new();
    while i < content.len() {
        let c = content[i];
        match c {
            b'(' | b'<' if content.get(i + 1) != Some(&b'<') => {
                let (bytes, end) = string(content, i);
                let table: &BTreeMap<u16, String> = font.unwrap();
                for pair in bytes.chunks(2) {
                    let glyph = u16::from_be_bytes([pair[0], pair[1]]);
                    text.push_str(&table[&glyph]);
                }
                i = end;
                continue;
            }
            b'A'..=b'Z' | b'a'..=b'z' | b'0'..=b'9' | b'*' => word.push(char::from(c)),
            _ => {
                match word.as_str() {
                    "Tf" => font = fonts.get(&last_name),
                    "ET" => page.push(std::mem::take(&mut text)),
                    w if w.starts_with('/') => w.clone_into(&mut last_name),
                    _ => {}
                }
                word.clear();
                // A name may follow an operator without a blank.
                if c == b'/' {
                    word.push('/');
                }
            }
        }
        i += 1;
    }
    page
}
