// Faults planted in what the translator reads, or in what the program is taken to have said: the
// comparison must see each on one of a few jobs.
const jobs = Array.from({ length: 40 }, (_, i) => i + 1);
const without = (world, shape) => {
  world.rules = world.rules.filter((r) => r.shape !== shape || r.level !== 'hard');
};

export const FAULTS = [
  { name: 'one minor unit less to spend', tight: true, plant: (w) => { w.budget -= 1; } },
  { name: 'within left out', plant: (w) => without(w, 'within') },
  { name: 'supply left out', seeds: [208, 240, 249], plant: (w) => without(w, 'supply') },
  { name: 'same and among left out', plant: (w) => { without(w, 'same'); without(w, 'among'); } },
  { name: 'unlock and clash left out', plant: (w) => { without(w, 'unlock'); without(w, 'clash'); } },
  { name: 'place left out', seeds: [46, 67], plant: (w) => without(w, 'place') },
  { name: 'what is broken today is not excused', plant: (w) => { w.strict = true; } },
  { name: 'the unknown is allowed', plant: (w) => { w.allow = true; } },
  { name: 'another weight', plant: (w) => {
    const { wishes } = w.job, of = Object.keys(wishes.swings ?? {})[0];
    if (of) wishes.swings[of] += 1;
    else wishes.ranks.push(wishes.ranks.shift());
  } },
  { name: 'delivery is free', plant: (w) => { w.freeDelivery = true; } },
  { name: 'no tax', plant: (w) => { w.tax = null; } },
  { name: 'taxed once', plant: (w) => { if (w.tax) w.tax = { ...w.tax, per: 'invoice' }; } },
  { name: 'labour is free', plant: (w) => { w.rate = 0; } },
  { name: 'no charges', plant: (w) => { w.charges = []; } },
  { name: 'no tasks', plant: (w) => { w.tasks = w.tasks.filter((t) => (w.job.musts ?? []).some((m) => m.do === t.id)); } },
  { name: 'offers are not taken off', plant: (w) => w.roles.forEach((r) => r.present.forEach((p) => { delete p.offer; })) },
  { name: 'fans never slow down', plant: (w) => { w.still = true; } },
  { name: 'a wish to keep forgotten', plant: (w) => { delete w.job.wishes.keep; } },
  { name: 'the last seller of the list forgotten', plant: (w) => { w.lines = w.lines.filter((l) => l.seller !== 'seller-0'); } },
  { name: 'a thousandth of a point more', change: (a) => ({ ...a, points: a.points + 1 }) },
  { name: 'the cost one less', change: (a) => ({ ...a, cost: a.cost - 1 }) },
  { name: 'nothing fits, it says', change: () => ({ fits: false }) },
].map((fault) => ({ seeds: jobs, ...fault }));
