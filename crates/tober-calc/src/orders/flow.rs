//! The greatest flow through a network, in whole numbers (Dinic's method, without recursion).

const NONE: usize = usize::MAX;

/// A network. Arcs come in pairs: `2 k` as it was added, and `2 k + 1` back along it.
pub(super) struct Network {
    first: Vec<usize>,
    next: Vec<usize>,
    to: Vec<usize>,
    room: Vec<i128>,
}

impl Network {
    pub(super) fn new(nodes: usize) -> Self {
        Self { first: vec![NONE; nodes], next: Vec::new(), to: Vec::new(), room: Vec::new() }
    }

    /// Adds an arc and returns its number.
    pub(super) fn arc(&mut self, from: usize, to: usize, room: i128) -> usize {
        let number = self.to.len();
        for (at, other, room) in [(from, to, room), (to, from, 0)] {
            self.next.push(self.first[at]);
            self.first[at] = self.to.len();
            self.to.push(other);
            self.room.push(room);
        }
        number
    }

    /// What flows along an arc.
    pub(super) fn flow(&self, arc: usize) -> i128 {
        self.room[arc ^ 1]
    }

    /// How many arcs each node is from `source` along arcs with room; `NONE` where it is not reached.
    fn levels(&self, source: usize) -> Vec<usize> {
        let mut level = vec![NONE; self.first.len()];
        level[source] = 0;
        let mut queue = Vec::with_capacity(self.first.len());
        queue.push(source);
        let mut taken = 0;
        while let Some(&node) = queue.get(taken) {
            taken += 1;
            let mut arc = self.first[node];
            while arc != NONE {
                let to = self.to[arc];
                if self.room[arc] > 0 && level[to] == NONE {
                    level[to] = level[node] + 1;
                    queue.push(to);
                }
                arc = self.next[arc];
            }
        }
        level
    }

    /// The nodes still reached from `source`: after [`Network::fill`], the least source side of a least cut.
    pub(super) fn reached(&self, source: usize) -> Vec<bool> {
        self.levels(source).into_iter().map(|level| level != NONE).collect()
    }

    /// Sends as much as goes from `source` to `sink`.
    pub(super) fn fill(&mut self, source: usize, sink: usize) {
        loop {
            let mut level = self.levels(source);
            if level[sink] == NONE {
                return;
            }
            let mut cursor = self.first.clone();
            let mut path: Vec<usize> = Vec::new();
            let mut node = source;
            loop {
                if node == sink {
                    let least = path.iter().map(|&arc| self.room[arc]).min().unwrap_or(0);
                    for &arc in &path {
                        self.room[arc] -= least;
                        self.room[arc ^ 1] += least;
                    }
                    // Back to where the first arc has filled up.
                    let full = path.iter().position(|&arc| self.room[arc] == 0).unwrap_or(0);
                    node = path.get(full).map_or(source, |&arc| self.to[arc ^ 1]);
                    path.truncate(full);
                    continue;
                }
                let arc = cursor[node];
                if arc == NONE {
                    let Some(back) = path.pop() else { break };
                    level[node] = NONE;
                    node = self.to[back ^ 1];
                } else if self.room[arc] > 0 && level[self.to[arc]] == level[node] + 1 {
                    path.push(arc);
                    node = self.to[arc];
                } else {
                    cursor[node] = self.next[arc];
                }
            }
        }
    }
}
