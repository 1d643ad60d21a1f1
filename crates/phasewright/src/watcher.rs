//! Looks at files beside the window, so that the window draws nothing while nothing
//! changes: a thread compares sizes and times, and wakes the window when one differs.

use std::collections::BTreeMap;
use std::path::PathBuf;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Condvar, Mutex, PoisonError};
use std::thread;
use std::time::{Duration, SystemTime};

use formulation::file::disk;

/// Time between two looks.
const ROUND: Duration = Duration::from_secs(3);

/// What window and thread share.
#[derive(Default)]
struct Shared {
    state: Mutex<Watched>,
    end: Condvar,
    changed: AtomicBool,
}

#[derive(Default)]
struct Watched {
    paths: Vec<PathBuf>,
    ended: bool,
}

/// A thread that looks at files; it ends with this.
pub struct Watcher {
    shared: Arc<Shared>,
}

impl Watcher {
    /// Starts looking; `wake` is called from the thread when something has changed. `None`
    /// if the system gives no thread.
    pub fn start(wake: impl Fn() + Send + 'static) -> Option<Self> {
        Self::every(ROUND, wake)
    }

    fn every(round: Duration, wake: impl Fn() + Send + 'static) -> Option<Self> {
        let shared = Arc::new(Shared::default());
        let seen_by_thread = shared.clone();
        thread::Builder::new()
            .name("watcher".to_owned())
            .spawn(move || look(&seen_by_thread, round, &wake))
            .ok()?;
        Some(Self { shared })
    }

    /// The files to look at from now on.
    pub fn watch(&self, paths: Vec<PathBuf>) {
        self.shared.lock().paths = paths;
    }

    /// Whether anything has changed since this was last asked.
    pub fn take(&self) -> bool {
        self.shared.changed.swap(false, Ordering::Relaxed)
    }
}

impl Drop for Watcher {
    fn drop(&mut self) {
        self.shared.lock().ended = true;
        self.shared.end.notify_all();
    }
}

impl Shared {
    /// What is watched is whole at any time, also after an error of the other side.
    fn lock(&self) -> std::sync::MutexGuard<'_, Watched> {
        self.state.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

/// Size and time of a file; none if it is not there.
type Seen = Option<(u64, Option<SystemTime>)>;

fn look(shared: &Shared, round: Duration, wake: &dyn Fn()) {
    let mut known: BTreeMap<PathBuf, Seen> = BTreeMap::new();
    loop {
        let paths = {
            let watched = shared.lock();
            let waited = shared
                .end
                .wait_timeout_while(watched, round, |w| !w.ended)
                .unwrap_or_else(PoisonError::into_inner);
            if waited.0.ended {
                return;
            }
            waited.0.paths.clone()
        };
        let mut now = BTreeMap::new();
        let mut changed = false;
        for path in paths {
            let about = disk::look(&path).ok();
            let seen = about.map(|a| (a.length(), a.modified()));
            // A file seen for the first time was just read by whoever asked to watch it.
            changed |= known.get(&path).is_some_and(|before| *before != seen);
            now.insert(path, seen);
        }
        known = now;
        if changed {
            shared.changed.store(true, Ordering::Relaxed);
            wake();
        }
    }
}

#[cfg(test)]
mod tests {
    use std::sync::mpsc;

    use super::*;

    #[test]
    fn a_change_wakes_once_and_rest_never() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("gel.formula.ron");
        std::fs::write(&path, "one").unwrap();
        let (send, woken) = mpsc::channel();
        let round = Duration::from_millis(20);
        let watcher = Watcher::every(round, move || send.send(()).unwrap()).unwrap();
        watcher.watch(vec![path.clone()]);
        assert!(woken.recv_timeout(10 * round).is_err());
        assert!(!watcher.take());
        std::fs::write(&path, "another").unwrap();
        woken.recv_timeout(Duration::from_secs(20)).unwrap();
        assert!(watcher.take() && !watcher.take());
        std::fs::remove_file(&path).unwrap();
        woken.recv_timeout(Duration::from_secs(20)).unwrap();
        // The thread ends with its watcher and lets go of what it wakes.
        drop(watcher);
        while woken.recv_timeout(Duration::from_secs(20)).is_ok() {}
        assert_eq!(
            woken.recv_timeout(Duration::from_secs(20)),
            Err(mpsc::RecvTimeoutError::Disconnected)
        );
    }
}
