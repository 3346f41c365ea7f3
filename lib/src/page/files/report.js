'use strict';
(() => {
const motion = JSON.parse(document.getElementById('motion').textContent);
const figure = document.getElementById('engine');
const svg = figure.querySelector('svg');
const all = kind => [...svg.querySelectorAll('g.' + kind)];
const between = (list, crank) => {
  const place = Math.min(Math.max(crank / motion.step_deg, 0), list.length - 1);
  const k = Math.min(Math.floor(place), list.length - 2);
  return list[k] + (place - k) * (list[k + 1] - list[k]);
};
const path = svg.querySelector('g.belt-path path');
const long = path.getTotalLength();
const poses = [];
const looks = motion.belt_teeth_count * 8;
for (let k = 0; k <= looks; ++k) {
  const here = path.getPointAtLength(long * k / looks);
  const next = path.getPointAtLength(Math.min(long, long * (k + 0.05) / looks));
  const before = path.getPointAtLength(Math.max(0, long * (k - 0.05) / looks));
  poses.push([here.x, here.y, Math.atan2(next.y - before.y, next.x - before.x)]);
}
const pose = teeth => {
  const count = motion.belt_teeth_count;
  const share = ((teeth % count) + count) % count / count * looks;
  const k = Math.min(Math.floor(share), looks - 1);
  const f = share - k;
  const a = poses[k], b = poses[k + 1];
  let turn = b[2] - a[2];
  if (turn > Math.PI) turn -= 2 * Math.PI;
  if (turn < -Math.PI) turn += 2 * Math.PI;
  return [a[0] + f * (b[0] - a[0]), a[1] + f * (b[1] - a[1]), a[2] + f * turn];
};
const deg = 180 / Math.PI;
const follow = (element, tooth, travel) => {
  const was = pose(motion.first_tooth + tooth);
  const is = pose(motion.first_tooth + tooth + travel);
  element.setAttribute('transform', `translate(${is[0]} ${is[1]}) rotate(${(is[2] - was[2]) * deg}) translate(${-was[0]} ${-was[1]})`);
};
const spin = (group, turned) => {
  const x = group.dataset.x, y = group.dataset.y;
  group.setAttribute('transform', `rotate(${-turned} ${x} ${y})`);
};
const pulleys = all('pulley'), marks = all('mark'), pins = all('pin'), ways = all('way-back');
const teeth = [...svg.querySelectorAll('g.belt-teeth > path')], paint = all('paint');
const clock = value => {
  const minutes = Math.round(((value % 360) + 360) % 360 * 2) % 720;
  const hour = Math.floor(minutes / 60) || 12;
  return hour + ':' + String(minutes % 60).padStart(2, '0');
};
const everywhere = kind => [...document.querySelectorAll('g.' + kind)];
const hands = [...everywhere('hand'), ...everywhere('hand-first'), ...everywhere('hand-second')];
const cursors = everywhere('cursor').map(group => [group, group.closest('svg').querySelector('g.cursor-end')]);
const follow_crank = (crank, turned) => {
  hands.forEach(group => spin(group, turned));
  everywhere('hand-first').forEach(group => { group.style.display = crank < 360 ? 'inline' : 'none'; });
  everywhere('hand-second').forEach(group => { group.style.display = crank < 360 ? 'none' : 'inline'; });
  cursors.forEach(([group, end]) => {
    group.setAttribute('transform', `translate(${(end.dataset.x - group.dataset.x) * crank / 720} 0)`);
  });
};
const slider = document.getElementById('crank'), now = document.getElementById('now');
const show = crank => {
  slider.value = crank;
  now.textContent = crank;
  const turned = motion.pulley_deg.map(list => between(list, crank));
  pulleys.forEach((group, i) => spin(group, turned[i]));
  marks.forEach((group, i) => spin(group, turned[motion.mark_pulleys[i]]));
  pins.forEach((group, i) => spin(group, turned[motion.pin_pulleys[i]]));
  ways.forEach(group => { group.style.display = crank % 720 === 0 ? '' : 'none'; });
  follow_crank(crank, turned[0]);
  const travel = between(motion.belt_teeth, crank);
  teeth.forEach((element, i) => follow(element, i, travel));
  paint.forEach((group, i) => follow(group, motion.paint_teeth[i], travel));
  motion.timed.forEach(shaft => {
    const at = ((shaft.mark_deg - turned[shaft.pulley]) % 360 + 360) % 360;
    const error = between(motion.error_crank_deg[shaft.pulley], crank);
    const off = Math.abs(error).toFixed(2);
    document.querySelector(`[data-mark="${shaft.pulley}"]`).textContent = at.toFixed(1) + ' (' + clock(at) + ')';
    document.querySelector(`[data-error="${shaft.pulley}"]`).textContent = off === '0.00' ? 'right' : off + ' crank deg ' + (error > 0 ? 'early' : 'late');
  });
};
let playing = 0;
const play = document.getElementById('play');
const stop = () => { cancelAnimationFrame(playing); playing = 0; play.textContent = 'Play'; };
const run = () => {
  let from = Number(slider.value) >= 720 ? 0 : Number(slider.value), begun = null;
  play.textContent = 'Stop';
  const frame = time => {
    begun = begun ?? time;
    const crank = Math.min(720, from + Math.round((time - begun) * 0.06));
    show(crank);
    if (crank >= 720) stop(); else playing = requestAnimationFrame(frame);
  };
  playing = requestAnimationFrame(frame);
};
const go = crank => { stop(); show(Math.min(720, Math.max(0, crank))); };
slider.addEventListener('input', () => { const to = Number(slider.value); stop(); show(to); });
play.addEventListener('click', () => playing ? stop() : run());
document.getElementById('back').addEventListener('click', () => go(Number(slider.value) - 10));
document.getElementById('on').addEventListener('click', () => go(Number(slider.value) + 10));
document.querySelectorAll('[data-to]').forEach(b => b.addEventListener('click', () => go(Number(b.dataset.to))));
document.getElementById('handle').hidden = false;
show(0);
})();
