//! What goes wrong with the next requests? Faults that a test arms, used up one request at a time.

/// Every method.
pub const ANY: &str = "*";

/// Something that goes wrong with a request.
#[derive(Clone, Debug, PartialEq)]
pub enum Fault {
    /// Refused with this code; nothing is done.
    Status { code: u16, description: String, retry_after: Option<u64> },
    /// Accepted and never answered until the fault is healed; nothing is done.
    Stall,
    /// Done, but the connection closes before the answer.
    DropReply,
    /// The connection closes; nothing is done.
    DropRequest,
    /// Answered 200 with half an object; nothing is done.
    BadJson,
}

impl Fault {
    pub fn status(code: u16, description: &str) -> Fault {
        Fault::Status { code, description: description.to_owned(), retry_after: None }
    }

    pub fn too_many_requests(retry_after: u64) -> Fault {
        let description = format!("Too Many Requests: retry after {retry_after}");
        Fault::Status { code: 429, description, retry_after: Some(retry_after) }
    }
}

/// The armed faults, first armed first used.
#[derive(Default)]
pub struct Faults {
    armed: Vec<(String, Fault, u32)>,
    /// Counts how often everything was healed; a stalled request waits for the next time.
    pub healed: u64,
}

impl Faults {
    pub fn arm(&mut self, method: &str, fault: Fault, times: u32) {
        if times > 0 {
            self.armed.push((method.to_owned(), fault, times));
        }
    }

    pub fn heal(&mut self) {
        self.armed.clear();
        self.healed += 1;
    }

    /// The fault for a request of this method.
    pub fn next(&mut self, method: &str) -> Option<Fault> {
        let fits = |name: &str| name == ANY || name.eq_ignore_ascii_case(method);
        let at = self.armed.iter().position(|(name, _, _)| fits(name))?;
        let (_, fault, times) = &mut self.armed[at];
        let fault = fault.clone();
        *times -= 1;
        if *times == 0 {
            self.armed.remove(at);
        }
        Some(fault)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_fault_is_used_up_by_the_requests_it_fits() {
        let mut faults = Faults::default();
        faults.arm("sendMessage", Fault::Stall, 2);
        faults.arm(ANY, Fault::BadJson, 1);
        faults.arm(ANY, Fault::DropReply, 0);
        assert_eq!(faults.next("sendmessage"), Some(Fault::Stall));
        assert_eq!(faults.next("getMe"), Some(Fault::BadJson));
        assert_eq!(faults.next("getMe"), None);
        assert_eq!(faults.next("sendMessage"), Some(Fault::Stall));
        assert_eq!(faults.next("sendMessage"), None);
    }
}
