//! The thread that makes pages: previews for the print overlay, and files. The screen never waits for either.

use super::named::named;
use crate::app::action::Action;
use crate::app::effect::{PagesAsk, PrintJob, ToPrinter};
use crate::app::printing::{PagesText, PrintNews, Queues};
use crate::domain::pages::frame::Setup;
use crate::domain::pages::page::Page;
use crate::domain::pages::preview;
use crate::domain::pages::request::pages_lent;
use crate::exchange::write::letters::Letters;
use crate::exchange::write::{pdf::pdf_with, qr, svg::svg};
use crate::persist::deliver::{self, DeliverError, FileKind};
use crate::persist::fonts;
use crate::persist::queue::{self, Ticket};
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::{Path, PathBuf};
use std::sync::mpsc::{Receiver, Sender, channel};
use std::sync::{Arc, LazyLock, Mutex, PoisonError};

/// What the thread is asked.
#[derive(Debug)]
pub enum PrintOrder {
    /// The pages in text, under a number.
    Preview(u64, Box<PagesAsk>),
    /// The print queues of the system.
    Queues,
    /// A file, or pages to be printed.
    File(Box<PrintJob>),
}

/// The front of the thread. Dropping it sends the thread home after what is in hand.
#[derive(Debug)]
pub struct Printer {
    orders: Sender<PrintOrder>,
}

impl Printer {
    /// Starts the thread; `tell` passes its news on.
    ///
    /// # Errors
    /// When the system refuses a thread.
    pub fn start(tell: impl Fn(Action) + Send + 'static) -> std::io::Result<Self> {
        let (orders, inbox) = channel();
        std::thread::Builder::new().name("printer".to_owned()).spawn(move || work(&inbox, &tell))?;
        Ok(Self { orders })
    }

    /// Puts an order. False where the thread is gone.
    pub fn ask(&self, order: PrintOrder) -> bool {
        self.orders.send(order).is_ok()
    }
}

/// Files are written in order; of previews only the newest is made.
fn work(inbox: &Receiver<PrintOrder>, tell: &impl Fn(Action)) {
    while let Ok(first) = inbox.recv() {
        let mut newest = None;
        for order in std::iter::once(first).chain(inbox.try_iter()) {
            match order {
                PrintOrder::Preview(number, ask) => newest = Some((number, ask)),
                PrintOrder::Queues => {
                    if let Ok(news) = caught(queues) {
                        tell(news);
                    }
                }
                PrintOrder::File(job) => {
                    let news = caught(|| write(*job, &mut |news| tell(Action::Printed(news))));
                    tell(Action::Printed(news.unwrap_or_else(PrintNews::Failed)));
                }
            }
        }
        if let Some((number, ask)) = newest {
            let text = caught(|| text(&ask)).and_then(|text| text);
            tell(Action::Previewed(number, text));
        }
    }
}

/// A fault in making a page is a sentence, and the thread goes on.
fn caught<T>(make: impl FnOnce() -> T) -> Result<T, String> {
    catch_unwind(AssertUnwindSafe(make))
        .map_err(|fault| format!("the pages could not be made: {}", super::terminal::words_of(&*fault)))
}

/// The letters that were borrowed last.
static LENT: LazyLock<Mutex<Letters>> = LazyLock::new(Mutex::default);

/// Pages with what they borrow from the fonts of this machine.
struct Made {
    pages: Vec<Page>,
    letters: Letters,
}

impl Made {
    fn of(ask: &PagesAsk) -> Result<Self, String> {
        let code = match ask.code.as_str() {
            "" => None,
            text => Some(qr::modules(text).map_err(|e| e.to_string())?),
        };
        let mut setup = Setup { code, ..ask.setup.clone() };
        let mut letters = LENT.lock().unwrap_or_else(PoisonError::into_inner);
        let lend = |wanted: &_| letters.lend(wanted, |take| fonts::each(take));
        let pages = pages_lent(&ask.wanted, &ask.book, &mut setup, lend).map_err(|e| e.to_string())?;
        let letters = letters.clone();
        Ok(Self { pages, letters })
    }

    fn pdf(&self) -> Vec<u8> {
        pdf_with(&self.pages, &self.letters)
    }
}

/// What would be on the pages, in text.
///
/// # Errors
/// The sentence that says why there are none.
pub fn text(ask: &PagesAsk) -> Result<PagesText, String> {
    let Made { pages, letters } = Made::of(ask)?;
    let count = preview::count_line(&pages, ask.setup.unit);
    let (mut lines, mut starts) = (Vec::new(), Vec::new());
    for (n, page) in pages.iter().enumerate() {
        starts.push(lines.len());
        lines.push(format!("page {}: {}", n + 1, page.title));
        lines.extend(preview::lines(page).into_iter().map(|line| format!("  {line}")));
    }
    let warning = preview::warning(&pages, &letters.characters());
    Ok(PagesText { count, lines, warning, starts, pages: Arc::new(pages) })
}

/// Where a typed name leads: `~/` is the home folder, anything else is taken from the working folder.
fn place(file: &str) -> PathBuf {
    let path = named(file);
    std::path::absolute(&path).unwrap_or(path)
}

/// The print queues of the system, as an action.
pub fn queues() -> Action {
    let queues = queue::queues().map(|found| Queues { names: found.names, usual: found.usual });
    Action::Queues(queues)
}

/// Makes the pages and hands them to a print queue, whose answer is shown.
fn print(job: &PrintJob, to: &ToPrinter, tell: &mut dyn FnMut(PrintNews)) -> PrintNews {
    tell(PrintNews::Stage("making the pages", 0, 3));
    let made = match Made::of(&job.ask) {
        Ok(made) => made,
        Err(why) => return PrintNews::Failed(format!("Not printed: {why}.")),
    };
    tell(PrintNews::Stage("laying out the pages", 1, 3));
    let document = made.pdf();
    tell(PrintNews::Stage("handing them to the printer", 2, 3));
    let ticket = Ticket {
        queue: to.queue.clone(),
        copies: to.copies,
        pages: to.range.clone(),
        title: made.pages.first().map_or_else(String::new, |page| page.title.clone()),
    };
    match queue::send(&document, &ticket) {
        Ok(answer) => {
            let copies = if to.copies > 1 { format!("{} copies of ", to.copies) } else { String::new() };
            let which = if to.range.is_empty() { String::new() } else { format!(" (pages {})", to.range) };
            let queue = if to.queue.is_empty() { "the printer" } else { to.queue.as_str() };
            let count = preview::count_line(&made.pages, job.ask.setup.unit);
            let answer =
                if answer.is_empty() { "it says nothing".to_owned() } else { format!("it says: {answer}") };
            PrintNews::Done(format!("Sent {copies}{count}{which} to {queue} at 100 %; {answer}"))
        }
        Err(why) => PrintNews::Failed(format!("Not printed: {why}.")),
    }
}

/// Makes the pages and writes the file, or prints them; `tell` hears of the stages in between.
pub fn write(job: PrintJob, tell: &mut dyn FnMut(PrintNews)) -> PrintNews {
    if let Some(to) = &job.to {
        return print(&job, to, tell);
    }
    let path = place(&job.file);
    let kind = match deliver::check(&path, job.replace) {
        Ok(kind) => kind,
        Err(DeliverError::There(_)) => return PrintNews::Exists(Box::new(job)),
        Err(why) => return PrintNews::Failed(format!("Not printed: {why}.")),
    };
    tell(PrintNews::Stage("making the pages", 0, 3));
    let made = match Made::of(&job.ask) {
        Ok(made) => made,
        Err(why) => return PrintNews::Failed(format!("Not printed: {why}.")),
    };
    tell(PrintNews::Stage("laying out the file", 1, 3));
    let bytes = match (kind, made.pages.as_slice()) {
        (FileKind::Pdf, _) => made.pdf(),
        (FileKind::Svg, [page]) => svg(page).into_bytes(),
        (FileKind::Svg, pages) => {
            let many = pages.len();
            return PrintNews::Failed(format!(
                "Not printed: there are {many} pages and a drawing holds one; name the file .pdf."
            ));
        }
    };
    tell(PrintNews::Stage("writing the file", 2, 3));
    match deliver::write(&path, &bytes) {
        Ok(()) => {
            let count = preview::count_line(&made.pages, job.ask.setup.unit);
            PrintNews::Written(said(&path, &count, bytes.len()), path.display().to_string())
        }
        Err(why) => PrintNews::Failed(format!("Not printed: {why}.")),
    }
}

/// What was written where; the path is copied, so that it can be opened from anywhere.
fn said(path: &Path, count: &str, bytes: usize) -> String {
    let name = path.file_name().unwrap_or_default().to_string_lossy();
    format!("Wrote {name}, {count}, {} KB. Open (path copied): {}", bytes.div_ceil(1024), path.display())
}
