//! Files embedded in the program, read side by side: reading them is most of the start.

use packed::Packed;

use super::read_error::ReadError;

/// An embedded file: its name and what is in it.
pub type Embedded = (&'static str, Packed);

/// Unpacks and reads files at the same time, each with its number; the outcomes come in the order of the
/// files. A reader that panics counts as one that could not read.
pub fn read_all<T: Send>(
    files: &[Embedded],
    read: impl Fn(usize, (&'static str, &str)) -> Result<T, ReadError> + Sync,
) -> Vec<Result<T, ReadError>> {
    let read = &read;
    std::thread::scope(|scope| {
        let reading: Vec<_> = (files.iter().enumerate())
            .map(|(number, &(name, packed))| {
                let reading = scope.spawn(move || read(number, (name, &packed.text())));
                (name, reading)
            })
            .collect();
        reading
            .into_iter()
            .map(|(name, thread)| {
                (thread.join())
                    .unwrap_or_else(|_panic| Err(ReadError::whole(name, "it could not be read")))
            })
            .collect()
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    // One letter each, as a stored block of RFC 1951.
    const ONE: Packed = Packed::new(&[1, 1, 0, 0xFE, 0xFF, b'1']);
    const X: Packed = Packed::new(&[1, 1, 0, 0xFE, 0xFF, b'x']);
    const THREE: Packed = Packed::new(&[1, 1, 0, 0xFE, 0xFF, b'3']);

    #[test]
    fn outcomes_come_in_the_order_of_the_files() {
        let files: Vec<Embedded> = vec![("a", ONE), ("b", X), ("c", THREE)];
        let read = read_all(&files, |number, (name, text)| {
            let value: usize = text
                .parse()
                .map_err(|_no_number| ReadError::whole(name, "no number"))?;
            Ok(number * 10 + value)
        });
        assert_eq!(read[0], Ok(1));
        assert_eq!(read[1], Err(ReadError::whole("b", "no number")));
        assert_eq!(read[2], Ok(23));
    }

    #[test]
    fn a_reader_that_panics_is_told_as_an_error_of_its_file() {
        let read = read_all(&[("a", ONE), ("b", ONE)], |number, _| {
            assert!(number == 0, "broken on purpose");
            Ok(number)
        });
        assert_eq!(
            read,
            [Ok(0), Err(ReadError::whole("b", "it could not be read"))]
        );
    }
}
