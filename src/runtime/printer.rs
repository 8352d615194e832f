//! The thread that makes pages: previews for the print overlay, and files. The screen never waits for either.

use super::named::named;
use crate::app::action::Action;
use crate::app::effect::{PagesAsk, PrintJob};
use crate::app::printing::{PagesText, PrintNews};
use crate::domain::pages::frame::Setup;
use crate::domain::pages::page::Page;
use crate::domain::pages::preview;
use crate::domain::pages::request::pages_for;
use crate::exchange::write::{pdf::pdf, qr, svg::svg};
use crate::persist::deliver::{self, DeliverError, Kind};
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::{Path, PathBuf};
use std::sync::mpsc::{Receiver, Sender, channel};

/// What the thread is asked.
#[derive(Debug)]
pub enum Order {
    /// The pages in text, under a number.
    Preview(u64, Box<PagesAsk>),
    /// A file.
    File(Box<PrintJob>),
}

/// The front of the thread. Dropping it sends the thread home after what is in hand.
#[derive(Debug)]
pub struct Printer {
    orders: Sender<Order>,
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
    pub fn ask(&self, order: Order) -> bool {
        self.orders.send(order).is_ok()
    }
}

/// Files are written in order; of previews only the newest is made.
fn work(inbox: &Receiver<Order>, tell: &impl Fn(Action)) {
    while let Ok(first) = inbox.recv() {
        let mut newest = None;
        for order in std::iter::once(first).chain(inbox.try_iter()) {
            match order {
                Order::Preview(number, ask) => newest = Some((number, ask)),
                Order::File(job) => {
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

fn pages(ask: &PagesAsk) -> Result<Vec<Page>, String> {
    let code = match ask.code.as_str() {
        "" => None,
        text => Some(qr::modules(text).map_err(|e| e.to_string())?),
    };
    let setup = Setup { code, ..ask.setup.clone() };
    pages_for(&ask.wanted, &ask.book, &setup).map_err(|e| e.to_string())
}

/// What would be on the pages, in text.
///
/// # Errors
/// The sentence that says why there are none.
pub fn text(ask: &PagesAsk) -> Result<PagesText, String> {
    let pages = pages(ask)?;
    let count = preview::count_line(&pages, ask.setup.unit);
    let mut lines = Vec::new();
    for (n, page) in pages.iter().enumerate() {
        lines.push(format!("page {}: {}", n + 1, page.title));
        lines.extend(preview::lines(page).into_iter().map(|line| format!("  {line}")));
    }
    Ok(PagesText { count, lines })
}

/// Where a typed name leads: `~/` is the home folder, anything else is taken from the working folder.
fn place(file: &str) -> PathBuf {
    let path = named(file);
    std::path::absolute(&path).unwrap_or(path)
}

/// Makes the pages and writes the file; `tell` hears of the stages in between.
pub fn write(job: PrintJob, tell: &mut dyn FnMut(PrintNews)) -> PrintNews {
    let path = place(&job.file);
    let kind = match deliver::check(&path, job.replace) {
        Ok(kind) => kind,
        Err(DeliverError::There(_)) => return PrintNews::Exists(Box::new(job)),
        Err(why) => return PrintNews::Failed(format!("Not printed: {why}.")),
    };
    tell(PrintNews::Stage("making the pages", 0, 3));
    let pages = match pages(&job.ask) {
        Ok(pages) => pages,
        Err(why) => return PrintNews::Failed(format!("Not printed: {why}.")),
    };
    tell(PrintNews::Stage("laying out the file", 1, 3));
    let bytes = match (kind, pages.as_slice()) {
        (Kind::Pdf, pages) => pdf(pages),
        (Kind::Svg, [page]) => svg(page).into_bytes(),
        (Kind::Svg, pages) => {
            let many = pages.len();
            return PrintNews::Failed(format!(
                "Not printed: there are {many} pages and a drawing holds one; name the file .pdf."
            ));
        }
    };
    tell(PrintNews::Stage("writing the file", 2, 3));
    match deliver::write(&path, &bytes) {
        Ok(()) => {
            let count = preview::count_line(&pages, job.ask.setup.unit);
            PrintNews::Done(said(&path, &count, bytes.len()))
        }
        Err(why) => PrintNews::Failed(format!("Not printed: {why}.")),
    }
}

/// What was written where, and how to open its folder.
fn said(path: &Path, count: &str, bytes: usize) -> String {
    let opener = if cfg!(target_os = "macos") { "open" } else { "xdg-open" };
    let folder = path.parent().unwrap_or(path).display();
    let name = path.file_name().unwrap_or_default().to_string_lossy();
    format!("Wrote {name}, {count}, {} KB. Open its folder: {opener} \"{folder}\"", bytes.div_ceil(1024))
}
