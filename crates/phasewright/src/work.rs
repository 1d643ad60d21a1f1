//! Work that may take longer than a frame: it is done on a thread beside the window, which goes
//! on meanwhile, and ends when nobody waits for it any more.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::mpsc::{Receiver, RecvTimeoutError, TryRecvError, channel};
use std::time::Duration;

use eframe::egui::{Context, Id};
use formulation::progress::Progress;

use crate::broken;

/// A frame waits so long for an answer, so that quick work is shown in the frame that asked for
/// it and nothing flickers: a part of the time between two frames.
const QUICK: Duration = Duration::from_millis(12);

const NO_ANSWER: &str = "it ended without an answer";

/// What is worked out for a key, which says what was asked for. An answer to anything else is
/// never given out.
pub struct Work<K, T> {
    job: Option<Job<K, T>>,
    /// The last answer, to something asked before.
    last: Option<(K, T)>,
}

struct Job<K, T> {
    /// What was asked; none once something else is wanted, while this comes to its end.
    key: Option<K>,
    state: State<T>,
    progress: Waiting,
    /// Time of the window at its begin.
    since: f64,
}

/// Somebody waits for the work; once nobody does, it stops.
struct Waiting(Arc<Progress>);

impl Drop for Waiting {
    fn drop(&mut self) {
        self.0.stop();
    }
}

enum State<T> {
    Going(Receiver<Result<T, String>>),
    Done(T),
    /// Stopped by the person.
    Stopped,
    /// It met an error of the program.
    Failed(String),
}

/// How a piece of work stands, to be shown.
pub enum WorkState<'a> {
    /// It goes on since this time of the window.
    Going(&'a Progress, f64),
    /// The person stopped it.
    Stopped,
    /// It met an error of the program, in words.
    Failed(&'a str),
}

impl<K, T> Default for Work<K, T> {
    fn default() -> Self {
        Self {
            job: None,
            last: None,
        }
    }
}

impl<K: PartialEq, T: Send + 'static> Work<K, T> {
    /// Asks for what belongs to a key; only if that is new, `job` says how it is worked out.
    /// What was asked for before is stopped first, so that there is never more than one thread.
    pub fn ask<J>(&mut self, ctx: &Context, key: K, job: impl FnOnce() -> J)
    where
        J: FnOnce(&Progress) -> T + Send + 'static,
    {
        self.poll();
        match &mut self.job {
            Some(at) if at.key.as_ref() == Some(&key) => {}
            // Its end wakes the window, which then asks again.
            Some(at) if matches!(at.state, State::Going(_)) => {
                at.key = None;
                at.progress.0.stop();
            }
            // Stopped while the former one came to its end: that was meant for what is wanted now.
            Some(at) if at.key.is_none() && matches!(at.state, State::Stopped) => {
                at.key = Some(key);
            }
            _ => self.begin(ctx, key, job()),
        }
    }
}

impl<K, T: Send + 'static> Work<K, T> {
    /// Begins a piece of work; what went on before is let go.
    pub fn begin(
        &mut self,
        ctx: &Context,
        key: K,
        job: impl FnOnce(&Progress) -> T + Send + 'static,
    ) {
        let pace = Pace::of(ctx);
        if matches!(pace, Pace::AtOnce) {
            self.begin_here(ctx, key, job);
            return;
        }
        let progress = Arc::new(Progress::default());
        let state = begun(ctx, pace, Arc::clone(&progress), job);
        self.put(ctx, key, state, progress);
    }

    /// Does a piece of work within the call.
    pub fn begin_here(&mut self, ctx: &Context, key: K, job: impl FnOnce(&Progress) -> T) {
        let progress = Arc::new(Progress::default());
        let state = ended(broken::caught(|| job(&progress)));
        self.put(ctx, key, state, progress);
    }

    fn put(&mut self, ctx: &Context, key: K, state: State<T>, progress: Arc<Progress>) {
        // What takes the place of work that was overtaken goes on showing how far it is: a press
        // of its button that has begun reaches the new one.
        let overtaken = self.job.as_ref().filter(|at| at.key.is_none());
        let since = overtaken.map_or_else(|| ctx.time(), |at| at.since);
        self.last = self.take().or_else(|| self.last.take());
        self.job = Some(Job {
            key: Some(key),
            state,
            progress: Waiting(progress),
            since,
        });
    }

    /// Takes over the answer, if it has come.
    pub fn poll(&mut self) {
        if let Some(job) = &mut self.job
            && let State::Going(answer) = &job.state
        {
            match answer.try_recv() {
                Ok(answer) => job.state = ended(answer),
                Err(TryRecvError::Empty) => {}
                Err(TryRecvError::Disconnected) => {
                    job.state = State::Failed(NO_ANSWER.to_owned());
                }
            }
        }
    }
}

impl<K, T> Work<K, T> {
    /// The answer to what was asked last, once it is there.
    pub fn answer(&self) -> Option<&T> {
        match &self.job {
            Some(Job {
                key: Some(_),
                state: State::Done(answer),
                ..
            }) => Some(answer),
            _ => None,
        }
    }

    /// The last answer before what goes on now, with what was asked then: to be shown until the
    /// new one is there, and marked as old.
    pub fn before(&self) -> Option<(&K, &T)> {
        let (key, answer) = self.last.as_ref().filter(|_| self.is_going())?;
        Some((key, answer))
    }

    /// Takes the answer away, with what was asked.
    pub fn take(&mut self) -> Option<(K, T)> {
        self.answer()?;
        match self.job.take() {
            Some(Job {
                key: Some(key),
                state: State::Done(answer),
                ..
            }) => Some((key, answer)),
            _ => None,
        }
    }

    /// Whether it goes on.
    pub const fn is_going(&self) -> bool {
        matches!(
            self.job,
            Some(Job {
                state: State::Going(_),
                ..
            })
        )
    }

    /// How it stands; none if nothing was asked or the answer is there.
    pub fn standing(&self) -> Option<WorkState<'_>> {
        let job = self.job.as_ref()?;
        match &job.state {
            State::Going(_) => Some(WorkState::Going(&job.progress.0, job.since)),
            State::Done(_) => None,
            State::Stopped => Some(WorkState::Stopped),
            State::Failed(why) => Some(WorkState::Failed(why)),
        }
    }

    /// Stops it because the person wants so; it is not begun again by itself.
    pub fn stop(&mut self) {
        if let Some(job) = &mut self.job {
            job.progress.0.stop();
            job.state = State::Stopped;
        }
    }

    /// Forgets it, so that it is begun anew when it is asked for again.
    pub fn forget(&mut self) {
        self.job = None;
        self.last = None;
    }
}

fn ended<T>(answer: Result<T, String>) -> State<T> {
    answer.map_or_else(State::Failed, State::Done)
}

/// Begins work on a thread.
fn begun<T: Send + 'static>(
    ctx: &Context,
    pace: Pace,
    progress: Arc<Progress>,
    job: impl FnOnce(&Progress) -> T + Send + 'static,
) -> State<T> {
    let (send, answer) = channel();
    let (waking, held) = (ctx.clone(), pace.clone());
    let spawned = std::thread::Builder::new()
        .name("work".to_owned())
        .spawn(move || {
            held.wait(&progress);
            // Whoever asked may be gone; then nobody waits for the answer.
            let _ = send.send(broken::caught(|| job(&progress)));
            waking.request_repaint();
        });
    if let Err(error) = spawned {
        return State::Failed(format!("it could not be begun: {error}"));
    }
    let patience = match pace {
        Pace::Held(_) => Duration::ZERO,
        _ => QUICK,
    };
    match answer.recv_timeout(patience) {
        Ok(answer) => ended(answer),
        Err(RecvTimeoutError::Timeout) => State::Going(answer),
        Err(RecvTimeoutError::Disconnected) => State::Failed(NO_ANSWER.to_owned()),
    }
}

/// When work is done; tests and pictures set it, so that every run gives the same.
#[derive(Clone, Default)]
enum Pace {
    /// Beside the window.
    #[default]
    Beside,
    /// Within the frame that asks for it.
    AtOnce,
    /// Beside the window, but not before it is let go.
    Held(Arc<AtomicBool>),
}

impl Pace {
    const ID: &str = "pace of work";

    fn of(ctx: &Context) -> Self {
        ctx.data(|d| d.get_temp(Id::unique(Self::ID)))
            .unwrap_or_default()
    }

    fn set(self, ctx: &Context) {
        ctx.data_mut(|d| d.insert_temp(Id::unique(Self::ID), self));
    }

    fn wait(&self, progress: &Progress) {
        if let Self::Held(go) = self {
            while !go.load(Ordering::Relaxed) && !progress.is_stopped() {
                std::thread::sleep(Duration::from_millis(1));
            }
        }
    }
}

/// From now on all work is done within the frame that asks for it: for pictures and tests.
pub fn at_once(ctx: &Context) {
    Pace::AtOnce.set(ctx);
}

/// From now on no work begins before it is let go: for tests of work that takes long.
pub fn hold(ctx: &Context) -> Held {
    let go = Arc::new(AtomicBool::new(false));
    Pace::Held(Arc::clone(&go)).set(ctx);
    Held(go)
}

/// Work that is held back.
pub struct Held(Arc<AtomicBool>);

impl Held {
    /// Lets it go.
    pub fn let_go(&self) {
        self.0.store(true, Ordering::Relaxed);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Waits for the answer of the thread.
    fn wait(work: &mut Work<u32, u32>) {
        while work.is_going() {
            std::thread::sleep(Duration::from_millis(1));
            work.poll();
        }
    }

    /// Seen for a while, overtaken, and its successor is seen at once.
    #[test]
    fn what_overtakes_work_is_seen_since_the_former_was() {
        let ctx = Context::default();
        let _held = hold(&ctx);
        let mut work = Work::default();
        let since = |work: &Work<u32, u32>| match work.standing() {
            Some(WorkState::Going(_, since)) => since,
            _ => panic!("it does not go on"),
        };
        work.ask(&ctx, 1, || |_: &Progress| 10);
        let before = since(&work);
        let later = eframe::egui::RawInput {
            time: Some(5.0),
            ..Default::default()
        };
        ctx.run_ui(later, |_| {}).textures_delta.clear();
        work.ask(&ctx, 2, || |_: &Progress| 20);
        wait(&mut work);
        work.ask(&ctx, 2, || |_: &Progress| 20);
        assert!((since(&work) - before).abs() < 1e-9);
        // Begun anew without having been overtaken, it is not.
        work.begin(&ctx, 3, |_: &Progress| 30);
        assert!(since(&work) > before);
    }

    #[test]
    fn an_answer_belongs_to_what_was_asked_last() {
        let ctx = Context::default();
        let held = hold(&ctx);
        let mut work = Work::default();
        work.ask(&ctx, 1, || |_: &Progress| 10);
        assert!(work.is_going() && work.answer().is_none());
        // Something else is wanted: the first is stopped, and what it gives is no answer.
        work.ask(&ctx, 2, || |_: &Progress| 20);
        wait(&mut work);
        assert_eq!(work.answer(), None);
        held.let_go();
        work.ask(&ctx, 2, || |_: &Progress| 21);
        wait(&mut work);
        assert_eq!(work.answer(), Some(&21));
        assert_eq!(work.before(), None);
        work.ask(&ctx, 2, || |_: &Progress| unreachable!("it is known"));
        // While the next is worked out, the last is known with what it answers.
        let held = hold(&ctx);
        work.ask(&ctx, 3, || |_: &Progress| 30);
        assert_eq!((work.answer(), work.before()), (None, Some((&2, &21))));
        held.let_go();
        wait(&mut work);
        assert_eq!((work.answer(), work.before()), (Some(&30), None));
        assert_eq!(work.take(), Some((3, 30)));
    }

    #[test]
    fn stopped_work_rests_until_it_is_asked_for_anew() {
        let ctx = Context::default();
        let held = hold(&ctx);
        let mut work: Work<u32, u32> = Work::default();
        let seen = Arc::new(AtomicBool::new(false));
        let told = Arc::clone(&seen);
        let job = move |progress: &Progress| {
            told.store(progress.is_stopped(), Ordering::Relaxed);
            1
        };
        work.ask(&ctx, 1, || job);
        work.stop();
        while !seen.load(Ordering::Relaxed) {
            std::thread::sleep(Duration::from_millis(1));
        }
        work.ask(&ctx, 1, || |_: &Progress| 2);
        assert!(work.answer().is_none());
        assert!(matches!(work.standing(), Some(WorkState::Stopped)));
        held.let_go();
        work.forget();
        work.ask(&ctx, 1, || |_: &Progress| 3);
        wait(&mut work);
        assert_eq!(work.answer(), Some(&3));
    }

    #[test]
    fn stopping_holds_for_what_is_wanted_although_the_former_work_has_not_ended() {
        let ctx = Context::default();
        let held = hold(&ctx);
        let mut work: Work<u32, u32> = Work::default();
        work.ask(&ctx, 1, || |_: &Progress| 1);
        // The first comes to its end while the second is wanted.
        work.ask(&ctx, 2, || |_: &Progress| 2);
        work.stop();
        for _ in 0..3 {
            work.ask(&ctx, 2, || |_: &Progress| 2);
            assert!(matches!(work.standing(), Some(WorkState::Stopped)));
        }
        // Something else is not stopped by it.
        held.let_go();
        work.ask(&ctx, 3, || |_: &Progress| 3);
        wait(&mut work);
        assert_eq!(work.answer(), Some(&3));
    }

    #[test]
    fn at_once_means_within_the_call_and_an_error_of_the_program_is_told() {
        let ctx = Context::default();
        at_once(&ctx);
        let mut work: Work<u32, u32> = Work::default();
        work.ask(&ctx, 1, || |_: &Progress| 5);
        assert_eq!(work.answer(), Some(&5));
        work.ask(&ctx, 2, || |_: &Progress| panic!("broken on purpose"));
        assert!(work.answer().is_none());
        let Some(WorkState::Failed(why)) = work.standing() else {
            panic!("it is not told");
        };
        assert!(why.contains("broken on purpose"), "{why}");
    }
}
