//! Files that are written: the whole of one or nothing.
//!
//! Each is written beside its place under a name of its own that nobody can guess, and put there at
//! once: who reads meanwhile has the old file or the new one, and several writers leave one of theirs.

use std::fs::{self, Permissions};
use std::io::{self, ErrorKind, Write};
use std::path::Path;

use tempfile::{Builder, NamedTempFile};

use crate::render::names::harmless;

/// Refuses a name that something has already, a link to nowhere and a folder among them.
///
/// Asked before anything else is written, so that a command which cannot write all leaves nothing.
pub(crate) fn is_free(path: &Path) -> Result<(), String> {
    match fs::symlink_metadata(path) {
        Ok(_) => Err(is_there(path)),
        Err(_) => Ok(()),
    }
}

fn is_there(path: &Path) -> String {
    let shown = harmless(&path.to_string_lossy());
    format!("{shown} is there already, and is left as it is")
}

/// Writes a file that was not there; whatever has the name already stays as it is.
pub(crate) fn write_new(path: &Path, text: &str) -> Result<(), String> {
    let shown = harmless(&path.to_string_lossy());
    // Where nothing can be written at all, what is there already is the better reason.
    is_free(path)?;
    let placed = beside(path, text, None)
        .and_then(|file| file.persist_noclobber(path).map_err(|error| error.error));
    placed.map(drop).map_err(|error| match error.kind() {
        ErrorKind::AlreadyExists => is_there(path),
        _ => format!("cannot write {shown}: {}", plainly(&error)),
    })
}

/// Why a file cannot be written, without the name that it has on the way to its place.
fn plainly(error: &io::Error) -> String {
    match error.kind() {
        ErrorKind::NotFound => "there is no such folder".to_owned(),
        ErrorKind::NotADirectory => "what should be its folder is none".to_owned(),
        ErrorKind::PermissionDenied => "nobody is let write into its folder".to_owned(),
        ErrorKind::ReadOnlyFilesystem => "nothing can be written there".to_owned(),
        ErrorKind::StorageFull | ErrorKind::QuotaExceeded => "the disk is full".to_owned(),
        ErrorKind::FileTooLarge => "no file may be so large there".to_owned(),
        kind => kind.to_string(),
    }
}

/// Writes a file in the place of one that may be there, with the rights that it has.
///
/// What is no file, and a link, stays as it is: nobody knows whose file that would be. So does a
/// file that is protected from being written.
pub(crate) fn replace(path: &Path, text: &str) -> Result<(), String> {
    let shown = harmless(&path.to_string_lossy());
    let rights = match fs::symlink_metadata(path) {
        Ok(there) if there.is_symlink() => {
            return Err(format!(
                "{shown} is a link, and is left as it is; accepted: the file itself, or a new name"
            ));
        }
        Ok(there) if !there.is_file() => {
            return Err(format!(
                "{shown} is no file, and is left as it is; accepted: a file, or a new name"
            ));
        }
        Ok(there) if there.permissions().readonly() => {
            return Err(format!(
                "{shown} is protected from being written, and is left as it is"
            ));
        }
        Ok(there) => Some(there.permissions()),
        Err(_) => None,
    };
    let placed =
        beside(path, text, rights).and_then(|file| file.persist(path).map_err(|error| error.error));
    let refused = |error: io::Error| format!("cannot write {shown}: {}", plainly(&error));
    placed.map(drop).map_err(refused)
}

/// A file in the same folder, all of it on the disk; it goes away unless it is put in its place.
fn beside(path: &Path, text: &str, rights: Option<Permissions>) -> io::Result<NamedTempFile> {
    let folder = path
        .parent()
        .filter(|folder| !folder.as_os_str().is_empty());
    let mut builder = Builder::new();
    builder.prefix(".hangbar-");
    if let Some(usual) = usual_rights() {
        builder.permissions(usual);
    }
    let mut file = builder.tempfile_in(folder.unwrap_or(Path::new(".")))?;
    file.write_all(text.as_bytes())?;
    if let Some(rights) = rights {
        file.as_file().set_permissions(rights)?;
    }
    file.as_file().sync_all()?;
    Ok(file)
}

/// The rights of a file that any program makes; the system takes away what this user keeps back.
#[cfg(unix)]
#[expect(clippy::unnecessary_wraps, reason = "elsewhere there are none")]
fn usual_rights() -> Option<Permissions> {
    use std::os::unix::fs::PermissionsExt;
    Some(Permissions::from_mode(0o666))
}

#[cfg(not(unix))]
const fn usual_rights() -> Option<Permissions> {
    None
}
