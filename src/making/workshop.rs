//! The machines that a job is made with.

use super::safety::safety_at;
use crate::instructions::safety::SafetyNotes;
use crate::machines::{AtStation, Chosen, Station};
use crate::reading::MachineProfile;

/// The machines that are there for a job, at most one at each station.
#[derive(Debug, Clone, Default)]
pub struct Workshop(Vec<MachineProfile>);

impl Workshop {
    /// Of several for a station the first stays. They are kept in the order in which a job goes
    /// through them.
    pub fn new(profiles: impl IntoIterator<Item = MachineProfile>) -> Self {
        let mut all: Vec<MachineProfile> = profiles.into_iter().collect();
        all.sort_by_key(MachineProfile::station);
        all.dedup_by_key(|profile| profile.station());
        Workshop(all)
    }

    /// Their profiles, in working order.
    pub fn profiles(&self) -> impl Iterator<Item = &MachineProfile> {
        self.0.iter()
    }

    /// The machine that stands where an `M` does, if there is one.
    pub fn machine<M: AtStation>(&self) -> Option<Chosen<'_, M>> {
        let profile = self.profile_at(M::STATION)?;
        let machine = M::of(&profile.machine)?;
        Some(Chosen {
            name: &profile.name,
            machine,
        })
    }

    /// The profile of the machine at a station.
    pub fn profile_at(&self, station: Station) -> Option<&MachineProfile> {
        self.profiles().find(|profile| profile.station() == station)
    }

    /// The profile of this name.
    pub(super) fn profile_called(&self, name: &str) -> Option<&MachineProfile> {
        self.profiles().find(|profile| profile.name == name)
    }

    /// What is to be minded, machine by machine.
    pub fn safety(&self) -> Vec<SafetyNotes> {
        self.profiles()
            .map(|profile| safety_at(&profile.machine))
            .collect()
    }
}
