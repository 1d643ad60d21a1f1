//! `phasewright keys NAME`, `phasewright sign FILE`, `phasewright verify FILE`

use std::io::Write;
use std::path::{Path, PathBuf};

use clap::Args;
use formulation::file::signature;
use formulation::file::store;

use super::{FOUND, Failure, Outcome};
use crate::state::Folders;

/// Arguments of `keys`.
#[derive(Debug, Args)]
pub struct Keys {
    /// A name for the pair of keys, for example studio.
    pub name: String,
    /// The folder to keep them in, if not the one of the settings.
    #[arg(long, value_name = "FOLDER")]
    pub folder: Option<PathBuf>,
    /// A file whose first line is the password of the secret key; without it the key has none.
    #[arg(long, value_name = "FILE")]
    pub password_file: Option<PathBuf>,
}

/// Arguments of `sign`.
#[derive(Debug, Args)]
pub struct Sign {
    /// A finished formula or the record of a closed batch.
    pub file: PathBuf,
    /// The secret key: a name given to `keys`, or a file.
    #[arg(long, value_name = "NAME|FILE")]
    pub key: String,
    /// A file whose first line is the password of the key.
    #[arg(long, value_name = "FILE")]
    pub password_file: Option<PathBuf>,
    /// Replace a signature that is there already.
    #[arg(long)]
    pub replace: bool,
}

/// Arguments of `verify`.
#[derive(Debug, Args)]
pub struct Verify {
    /// The file that was signed; its signature is beside it as FILE.minisig.
    pub file: PathBuf,
    /// The public key of who is said to have signed: a name given to `keys`, or a file.
    #[arg(long, value_name = "NAME|FILE")]
    pub key: String,
}

fn password(file: Option<&Path>) -> Result<String, Failure> {
    let Some(file) = file else {
        return Ok(String::new());
    };
    let (text, _) = store::read_text(file)?;
    Ok(text.lines().next().unwrap_or_default().to_owned())
}

/// A key by the name it was given, or the file itself.
fn key_file(named: &str, ending: &str) -> PathBuf {
    let plain = !named.contains(['/', '\\', '.']);
    match Folders::usual().keys() {
        Some(folder) if plain => folder.join(format!("{named}.{ending}")),
        _ => named.into(),
    }
}

impl Keys {
    /// Makes the keys.
    pub fn run(&self, out: &mut dyn Write) -> Outcome {
        let folder = self.folder.clone().or_else(|| Folders::usual().keys());
        let folder = folder.ok_or_else(|| {
            Failure("no folder for keys is known on this system; name one with --folder".into())
        })?;
        let base = folder.join(&self.name);
        let password = password(self.password_file.as_deref())?;
        let key = signature::make_named(&folder, &self.name, &password)?;
        writeln!(out, "Key {key} made.")?;
        writeln!(
            out,
            "Keep {}.key to yourself, with a copy in another place: whoever has it can sign in your name. Give {}.pub to those who check.",
            base.display(),
            base.display()
        )?;
        Ok(0)
    }
}

impl Sign {
    /// Signs the file.
    pub fn run(&self, out: &mut dyn Write) -> Outcome {
        let signed = signature::sign(
            &self.file,
            &key_file(&self.key, signature::SECRET),
            &password(self.password_file.as_deref())?,
            jiff::Timestamp::now().as_second(),
            self.replace,
        )?;
        writeln!(out, "Signed ({}).", signed.display())?;
        Ok(0)
    }
}

impl Verify {
    /// Says whether the signature holds; 1 if it does not.
    pub fn run(&self, out: &mut dyn Write) -> Outcome {
        let public = key_file(&self.key, signature::PUBLIC);
        let verdict = signature::verify(&self.file, &public)?;
        writeln!(out, "{}", verdict.words())?;
        Ok(if verdict.holds() { 0 } else { FOUND })
    }
}
