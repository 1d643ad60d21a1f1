//! "q.s.": as much as is needed, in its many spellings.

/// Whether a text stands for "as much as is needed": q.s. in its many spellings.
pub fn is_qs(text: &str) -> bool {
    quantum_satis(text).is_some()
}

/// A "q.s." and whether it fills up to the whole, says nothing, or is for an effect.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) enum Qs {
    /// "q.s. 100", "ad 100 %", "to 100", "rest", "balance".
    ToWhole,
    /// "q.s." alone.
    Plain,
    /// "q.s. to pH 5.5".
    Effect,
}

pub(super) fn quantum_satis(text: &str) -> Option<Qs> {
    let text = text.trim().to_lowercase();
    let squeezed: String = text
        .chars()
        .filter(|c| !c.is_whitespace() && *c != '.')
        .collect();
    let squeezed = squeezed.trim_matches(['(', ')', ':']);
    let filling = |rest: &str| {
        let digits = rest
            .trim_start_matches(|c: char| !c.is_ascii_digit())
            .trim_end_matches(|c: char| !c.is_ascii_digit());
        digits.starts_with("100")
    };
    for word in [
        "qsad",
        "qsto",
        "qsp",
        "qsf",
        "qs",
        "qb",
        "quantumsatis",
        "sq",
    ] {
        let Some(rest) = squeezed.strip_prefix(word) else {
            continue;
        };
        return if rest.is_empty() || matches!(rest, "%" | "g") {
            Some(
                if word == "qs" || word.len() > 4 || word == "qb" || word == "sq" {
                    Qs::Plain
                } else {
                    Qs::ToWhole
                },
            )
        } else if filling(rest) {
            Some(Qs::ToWhole)
        } else if rest.contains("ph") || rest.contains("visc") || rest.contains("needed") {
            Some(Qs::Effect)
        } else {
            rest.starts_with(|c: char| !c.is_alphabetic())
                .then_some(Qs::Plain)
        };
    }
    for word in ["ad", "to", "upto", "bis", "auf", "add", "fillto"] {
        if let Some(rest) = squeezed.strip_prefix(word)
            && rest.starts_with(|c: char| c.is_ascii_digit())
            && filling(rest)
        {
            return Some(Qs::ToWhole);
        }
    }
    match squeezed {
        "rest" | "balance" | "remainder" | "remaining" | "restmenge" | "reste" | "resto"
        | "bal" => Some(Qs::ToWhole),
        "asneeded" | "asrequired" | "nachbedarf" | "needed" => Some(Qs::Effect),
        _ => None,
    }
}
