//! A question that a pane keeps asking while something is in hand, and the answer to the last one. A worker answers, so that an
//! older answer may come after a newer question.

/// Question and answer.
#[derive(Clone, Debug)]
pub struct Answered<Q, A> {
    /// What was asked last.
    pub asked: Option<Q>,
    /// Its answer.
    pub found: Option<Box<A>>,
    /// Number of the question that is out with a worker.
    pub waiting: Option<u64>,
}

impl<Q, A> Default for Answered<Q, A> {
    fn default() -> Self {
        Self { asked: None, found: None, waiting: None }
    }
}

impl<Q: PartialEq, A> Answered<Q, A> {
    /// Remembers a question, and gives it back where it is another one than the last: it is to be sent out then.
    pub fn asks(&mut self, asked: Q) -> Option<&Q> {
        if self.asked.as_ref() == Some(&asked) {
            return None;
        }
        self.found = None;
        Some(self.asked.insert(asked))
    }

    /// Takes a worker's answer, unless it is to an older question.
    pub fn take(&mut self, number: u64, found: Box<A>) {
        if self.waiting == Some(number) {
            self.waiting = None;
            self.found = Some(found);
        }
    }

    /// The question with its answer, once it is there.
    pub fn both(&self) -> Option<(&Q, &A)> {
        Some((self.asked.as_ref()?, self.found.as_deref()?))
    }
}
