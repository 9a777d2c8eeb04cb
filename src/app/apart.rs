//! Reading, writing and drawing whole books: on a thread of its own, since that takes its time, and
//! so that a panic in it, a bug of ours, costs the one file it is about. The loops go on.

/// What came of `work`; `None` where it panicked. The panic itself is in the log.
pub async fn apart<T: Send + 'static>(work: impl FnOnce() -> T + Send + 'static) -> Option<T> {
    tokio::task::spawn_blocking(work).await.ok()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[tokio::test]
    async fn work_that_panics_ends_for_itself_alone() {
        let none: Vec<u8> = Vec::new();
        assert_eq!(apart(move || none[1]).await, None);
        assert_eq!(apart(|| 7).await, Some(7));
    }
}
