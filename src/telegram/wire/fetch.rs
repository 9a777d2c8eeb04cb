//! A file somebody sent to the bot: asked for by its id, fetched by the path that is answered.

use serde::Deserialize;
use serde_json::json;
use thiserror::Error;

use super::Wire;
use crate::telegram::error::WireError;

/// Why a file did not come.
#[derive(Debug, Error)]
pub enum FetchError {
    #[error("the file is too large")]
    TooLarge,
    #[error(transparent)]
    Wire(#[from] WireError),
}

/// What `getFile` answers, as far as it is needed.
#[derive(Deserialize)]
struct Found {
    file_path: String,
}

impl Wire {
    /// The bytes of a file, by the platform's id of it, if they are no more than `bytes_max`.
    ///
    /// # Errors
    /// [`FetchError::TooLarge`], or a [`WireError`].
    pub async fn fetch(&self, file_id: &str, bytes_max: usize) -> Result<Vec<u8>, FetchError> {
        let found = self.call("getFile", &json!({ "file_id": file_id })).await?;
        let unclear = |why: &str| FetchError::Wire(WireError::Ambiguous { why: why.to_owned() });
        let found: Found = serde_json::from_str(found.result.get())
            .map_err(|_| unclear("the file has no path"))?;
        let path = found.file_path;
        let parts: Vec<&str> = path.split('/').collect();
        // A path that could lead anywhere else is none of the platform's.
        if parts.iter().any(|part| part.is_empty() || part.starts_with('.')) {
            return Err(unclear("the path of the file is none"));
        }
        if let Some(carrier) = &self.carrier {
            let nothing = || WireError::NothingWritten { why: "no connection".to_owned() };
            let bytes = carrier.fetch(&path).await.ok_or_else(nothing)?;
            return if bytes.len() > bytes_max { Err(FetchError::TooLarge) } else { Ok(bytes) };
        }
        let mut address = self.files.clone();
        if let Ok(mut segments) = address.path_segments_mut() {
            segments.extend(&parts);
        }
        let answer = self.sending.get(address).send().await;
        let answer = answer.map_err(|error| self.unanswered(error))?;
        let status = answer.status().as_u16();
        if status != 200 {
            return Err(unclear(&format!("status {status}")));
        }
        self.body(answer, bytes_max).await?.ok_or(FetchError::TooLarge)
    }
}
