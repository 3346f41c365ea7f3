// The report's template, style and script. {{name}} is escaped; {{{name}}} is what this program
// wrote itself.
#pragma once

#include <string_view>

namespace twoturn::report {

inline constexpr std::string_view kBody = R"(<main class="{{verdict_class}}">
<header>
<p class="kind">Report on a timing-belt drive{{#fit}}, {{fit}}{{/fit}}</p>
<h1>{{title}}</h1>
<p class="verdict"><strong>{{shout}}</strong></p>
<p class="headline">{{headline}}</p>
</header>
<section aria-labelledby="found"><h2 id="found">What was found</h2>
{{^findings}}<p>Nothing beyond what was judged above.</p>
{{/findings}}{{#any_findings}}<ul class="findings">
{{#findings}}<li><strong class="level">{{level}}</strong> <b>{{about}}</b>: {{text}}</li>
{{/findings}}</ul>
{{/any_findings}}</section>
{{#view}}<section aria-labelledby="end"><h2 id="end">The belt end</h2>
<figure id="engine">
{{{svg}}}
<figcaption>{{caption}}</figcaption>
</figure>
{{#moves}}<div id="handle" hidden>
<p><label for="crank">Turn the crank:</label> <output id="now" for="crank">0</output> crank deg</p>
<input id="crank" type="range" min="0" max="720" step="1" value="0">
<div class="buttons"><button type="button" id="back">10 back</button><button type="button" id="play">Play</button><button type="button" id="on">10 on</button><button type="button" data-to="0">start</button><button type="button" data-to="360">1 turn</button><button type="button" data-to="720">2 turns</button></div>
</div>
<table id="seen"><caption>What you see at this moment</caption>
<thead><tr><th scope="col">shaft</th><th scope="col">its mark at clock</th><th scope="col">against where it belongs</th></tr></thead>
<tbody>
{{#timed}}<tr><th scope="row">{{name}}</th><td data-mark="{{index}}">{{mark}}</td><td data-error="{{index}}">{{error}}</td></tr>
{{/timed}}</tbody></table>
<noscript><p>The crank can be turned here where scripts are allowed; all else is on this page without them.</p></noscript>
{{/moves}}{{#close_ups}}<figure class="close-up">
<figcaption>{{caption}}</figcaption>
{{{svg}}}
</figure>
{{/close_ups}}</section>
{{/view}}{{#turns}}<section aria-labelledby="see"><h2 id="see">What you should see</h2>
{{#stop}}<p><strong>Do NOT turn it. If it were turned, this is what marks and pins would show.</strong></p>
{{/stop}}<div class="wide"><table>
<thead><tr><th scope="col">after</th><th scope="col">shaft</th><th scope="col">mark at clock</th><th scope="col">belongs at</th><th scope="col">error</th><th scope="col">pin</th></tr></thead>
<tbody>
{{#rows}}<tr{{#first}} class="first"{{/first}}><td>{{after}}</td><th scope="row">{{shaft}}</th><td>{{mark}}</td><td>{{belongs}}</td><td>{{error}}</td><td>{{pin}}</td></tr>
{{/rows}}</tbody></table></div>
<p>{{paint}}</p>
{{#between}}<p class="between">{{text}}</p>
{{/between}}</section>
{{/turns}}{{#any_plots}}<section aria-labelledby="plots"><h2 id="plots">Plots</h2>
{{#plots}}<figure class="plot">
{{{svg}}}
</figure>
{{/plots}}</section>
{{/any_plots}}{{#tables}}<section aria-labelledby="{{id}}"><h2 id="{{id}}">{{title}}</h2>
{{#lead}}<p>{{lead}}</p>
{{/lead}}<div class="wide"><table>
<thead><tr>{{#heads}}<th scope="col">{{text}}</th>{{/heads}}</tr></thead>
<tbody>
{{#rows}}<tr>{{#head}}<th scope="row">{{head}}</th>{{/head}}{{#cells}}<td>{{text}}</td>{{/cells}}</tr>
{{/rows}}</tbody></table></div>
</section>
{{/tables}}<section aria-labelledby="open"><h2 id="open">Not checked</h2>
<ul>
{{#open}}<li>{{text}}</li>
{{/open}}</ul></section>
<section aria-labelledby="care"><h2 id="care">Cautions</h2>
<ul>
{{#cautions}}<li>{{text}}</li>
{{/cautions}}</ul></section>
</main>
{{#motion}}<script type="application/json" id="motion">{{{motion}}}</script>{{/motion}})";

inline constexpr std::string_view kStyle = R"(h1 { font-size: 1.7em; line-height: 1.15; }
h2 { font-size: 1.2em; margin: 1.2em 0 .35em; border-bottom: 1px solid #000; }
.kind { font-size: .95em; }
.verdict strong { display: inline-block; font-size: 1.35em; border: 2px solid #000; padding: .15em .5em; margin: .35em 0; }
.stop .verdict strong { background: #000; color: #fff; }
.headline { font-weight: bold; }
ul { padding-left: 1.2em; }
li { margin: .25em 0; }
.level { border: 1px solid #000; padding: 0 .3em; }
figure { margin: .5em 0; break-inside: avoid; }
#engine svg { display: block; width: 100%; max-width: 150mm; margin: 0 auto; }
figcaption { font-size: .95em; }
.close-up { display: inline-block; vertical-align: top; margin-right: 6mm; max-width: 100%; }
.close-up figcaption { font-weight: bold; }
.plot svg { display: block; width: 100%; max-width: 170mm; }
#handle { position: sticky; bottom: 0; background: #fff; border: 2px solid #000; padding: .5em; max-width: 150mm; margin: 0 auto; }
#handle input { width: 100%; height: 1.9em; margin: 0; accent-color: #000; }
#now { font-weight: bold; display: inline-block; min-width: 3.2em; text-align: right; }
.buttons { display: flex; flex-wrap: wrap; gap: .4em; }
#seen { margin: .5em auto; }
button { font: inherit; padding: .45em .7em; border: 1px solid #000; border-radius: 0; background: #fff; color: #000; }
button:focus-visible, input:focus-visible { outline: 3px solid #000; outline-offset: 2px; }
table { border-collapse: collapse; font-variant-numeric: tabular-nums; }
caption { text-align: left; font-weight: bold; padding-top: .4em; }
th, td { text-align: left; vertical-align: top; padding: .12em .7em .12em 0; }
thead th { border-bottom: 1px solid #000; vertical-align: bottom; }
tbody th { font-weight: normal; }
tr.first > * { border-top: 1px solid #888; }
.wide { overflow-x: auto; }
td, th { overflow-wrap: normal; }
@media screen and (max-width: 600px) { th, td { padding-right: .45em; font-size: 14px; overflow-wrap: anywhere; } }
@media print { #handle { display: none; } h2 { break-after: avoid; } tr { break-inside: avoid; } }
)";

// Goes between the steps of the motion along straight lines. Everything it knows of the drive is in
// `motion`.
inline constexpr std::string_view kScript = R"('use strict';
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
const pulleys = all('pulley'), marks = all('mark'), pins = all('pin');
const teeth = [...svg.querySelectorAll('g.belt-teeth > path')], paint = all('paint');
const clock = value => {
  const minutes = Math.round(((value % 360) + 360) % 360 * 2) % 720;
  const hour = Math.floor(minutes / 60) || 12;
  return hour + ':' + String(minutes % 60).padStart(2, '0');
};
const slider = document.getElementById('crank'), now = document.getElementById('now');
const show = crank => {
  slider.value = crank;
  now.textContent = crank;
  const turned = motion.pulley_deg.map(list => between(list, crank));
  pulleys.forEach((group, i) => spin(group, turned[i]));
  marks.forEach((group, i) => spin(group, turned[motion.mark_pulleys[i]]));
  pins.forEach((group, i) => spin(group, turned[motion.pin_pulleys[i]]));
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
})();)";

}  // namespace twoturn::report
