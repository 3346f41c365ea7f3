// The job sheet's template and its style.
#pragma once

#include <string_view>

namespace twoturn::sheet {

// A place to write in, a line, a list of findings: the parts that stand in several places.
inline constexpr std::string_view kPage = R"(<main class="{{classes}}">
<header>
<h1>{{profile}}</h1>
<p><span class="what">Timing belt job sheet, {{fit}}{{#turning}}; crank runs {{turning}}{{/turning}}</span> <span class="who"><label>Engine <input type="text"></label> <label>By <input type="text"></label> <label>Date <input type="text"></label></span></p>
</header>
<section class="verdict" aria-label="Verdict">
{{#shout}}<p class="shout">{{shout}}</p>
<p class="must">{{must_do}}</p>
{{/shout}}<p class="says">{{says}}</p>
{{#any_found}}<ul class="found">
{{#found}}<li>{{text}}</li>
{{/found}}</ul>
{{/any_found}}</section>
<section class="work" aria-label="Order of work">
{{#parts}}<div class="{{part}}">
{{#view}}<figure class="view">{{{view}}}</figure>
{{/view}}<ol>
{{#steps}}<li class="step"><h2><span class="number">{{number}}</span>{{title}}</h2>
<ul>
{{#lines}}<li class="{{kind}}">{{#tick}}<label><input type="checkbox"><span>{{text}}</span></label>{{/tick}}{{^tick}}<span>{{text}}</span>{{/tick}}{{#blanks}} <label class="blank">{{label}}{{#label}} {{/label}}<input type="text"{{#bare}} aria-label="write it in"{{/bare}}>{{#unit}} {{unit}}{{/unit}}</label>{{/blanks}}</li>
{{/lines}}</ul></li>
{{/steps}}</ol>
</div>
{{/parts}}</section>
<section class="marks"><h2>Marks, as on a clock face, looking at the belt end</h2>
<table>
<thead><tr><th scope="col">Shaft</th><th scope="col">Mark, pinned and after two turns</th><th scope="col">Pin in</th><th scope="col">After one turn</th><th scope="col">On paper: off by (mm at the edge)</th><th scope="col">On paper: its pin</th><th scope="col">Seen after two turns</th></tr></thead>
<tbody>
{{#marks}}<tr><th scope="row">{{shaft}}</th><td data-is="mark, pinned and after two turns">{{#start}}{{start}}{{/start}}{{^start}}<input type="text" aria-label="{{shaft}}: mark at">{{/start}}</td><td data-is="{{held_by}}{{^held_by}}held{{/held_by}} in"><input type="checkbox" aria-label="{{shaft}}: {{held_by}}{{^held_by}}held{{/held_by}} in">{{#bar}} bar{{/bar}}</td><td data-is="after one turn">{{after_one}}</td><td data-is="on paper, off by, at the edge">{{stands}}{{^stands}}not known{{/stands}}</td><td data-is="on paper, its pin">{{pin}}{{^pin}}not known{{/pin}}</td><td data-is="seen after two turns"><input type="text" aria-label="{{shaft}}: seen at"></td></tr>
{{/marks}}</tbody>
</table>
<p>After one turn the marks of shafts at half speed stand opposite: that is right. Late: not yet where it belongs, in the running direction; early: past it.</p>
</section>
<section class="faults"><h2>What you see, what it means</h2>
<dl>
{{#faults}}<div><dt>{{seen}}</dt> <dd>{{means}}</dd></div>
{{/faults}}</dl>
</section>
<section class="cautions"><h2>Cautions, and what is not checked</h2>
<ul>
{{#cautions}}<li>{{text}}</li>
{{/cautions}}<li>Not checked: {{not_checked}}</li>
{{#origins}}<li>{{origins}}</li>
{{/origins}}</ul>
</section>
</main>)";

inline constexpr std::string_view kStyle = R"(
.sheet input[type=text] {
  width: 12mm; height: 4.4mm; padding: 0 .5mm; font: inherit; color: #000; background: none;
  border: 0; border-bottom: .3mm solid #000; border-radius: 0; vertical-align: baseline;
}
.sheet input[type=checkbox] {
  appearance: none; flex: none; width: 3.6mm; height: 3.6mm; margin: .35mm 2mm 0 0;
  border: .35mm solid #000; border-radius: 0; background: #fff; vertical-align: -.5mm;
}
.sheet input[type=checkbox]:checked {
  background: linear-gradient(45deg, transparent 44%, #000 44%, #000 56%, transparent 56%),
    linear-gradient(-45deg, transparent 44%, #000 44%, #000 56%, transparent 56%);
}
.sheet { line-height: 1.15; }
.sheet header p { display: flex; gap: 4mm; justify-content: space-between; align-items: end; }
.sheet h1 { font-size: 15pt; line-height: 1.1; }
.sheet h2 { font-size: 10.2pt; }
.who { display: flex; gap: 3mm; flex: none; }
.who input[type=text] { width: 20mm; }
.verdict { border: .7mm solid #000; padding: .8mm 2.5mm; margin: 1mm 0 1.2mm; }
.stop .verdict { border-width: 1.6mm; }
.shout { font-size: 25pt; line-height: 1; font-weight: bold; }
.must { font-size: 12pt; line-height: 1.12; font-weight: bold; margin: .5mm 0; }
.says { font-weight: bold; }
.shout ~ .says { font-weight: normal; }
.found { padding-left: 4mm; font-size: 8.5pt; line-height: 1.12; }
.work ol, .work ul { list-style: none; }
.work { columns: 2; column-gap: 5mm; }
.has-view .work { columns: auto; display: grid; grid-template-columns: 1fr 85mm; gap: 4mm; }
.work h2 { border-bottom: .3mm solid #000; break-after: avoid; }
.step { margin-bottom: 1mm; }
.number { display: inline-block; min-width: 5.6mm; }
.work li li { padding-left: 5.6mm; break-inside: avoid; }
.work .tick > label:first-child { margin-left: -5.6mm; }
.blank { white-space: nowrap; }
.view { margin-bottom: 2mm; }
.view svg { display: block; width: calc(85mm * var(--view, 1)); height: calc(110mm * var(--view, 1)); margin: 0 auto; }
.v9 { --view: .9; }
.v8 { --view: .8; }
.v7 { --view: .7; }
.v6 { --view: .6; }
.marks h2, .faults h2, .cautions h2 { border-bottom: .3mm solid #000; margin-top: 1mm; }
.marks table { width: 100%; border-collapse: collapse; }
.marks th, .marks td { border: .2mm solid #000; padding: .2mm .8mm; text-align: left; vertical-align: top; }
.marks thead th { font-size: 7.6pt; line-height: 1.1; vertical-align: bottom; }
.marks th[scope=row] { width: 38mm; }
.marks th:nth-child(2) { width: 30mm; }
.marks th:nth-child(3) { width: 11mm; }
.marks th:nth-child(4) { width: 14mm; }
.marks th:nth-child(5) { width: 53mm; }
.marks th:nth-child(6) { width: 18mm; }
.marks td { white-space: nowrap; }
.marks td input[type=text] { width: 100%; }
.marks p { font-size: 8pt; }
.faults dl { font-size: 8.5pt; line-height: 1.12; columns: 2; column-gap: 5mm; }
.faults dl div { padding: .15mm 0; border-bottom: .1mm solid #000; break-inside: avoid; }
.faults dt, .faults dd { display: inline; }
.faults dt { font-weight: bold; }
.faults dd::before { content: "\2192\a0" / ""; }
.cautions ul { padding-left: 3.5mm; font-size: 7.6pt; line-height: 1.14; columns: 3; column-gap: 5mm; }
.cautions li { break-inside: avoid; }
.dense .step { margin-bottom: .6mm; }
.dense .faults dl { font-size: 7.6pt; columns: 3; column-gap: 5mm; }
@media screen and (max-width: 600px) {
  .sheet header p, .who { display: block; }
  .who label { display: block; }
  .sheet input[type=text] { height: 32px; width: 72px; }
  .sheet input[type=checkbox] { width: 24px; height: 24px; margin-right: 10px; vertical-align: -6px; }
  .work li li { padding: 4px 0 4px 34px; }
  .work .tick > label:first-child { margin-left: -34px; }
  .faults dl, .found, .marks p, .cautions ul, .marks thead th { font-size: 15px; line-height: 1.3; }
  .sheet .work, .sheet .faults dl, .cautions ul { columns: auto; display: block; }
  .view svg { width: 100%; height: auto; }
  .marks table, .marks tbody, .marks tr, .marks td, .marks tbody th { display: block; border: 0; }
  .marks thead { display: none; }
  .marks tr { border-bottom: 1px solid #000; padding: 6px 0; }
  .marks td { white-space: normal; }
  .marks td::before { content: attr(data-is) ": "; }
}
)";

}  // namespace twoturn::sheet
