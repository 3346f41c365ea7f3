#include "answer_tables.hpp"

#include <fmt/format.h>

#include <string>

#include "twoturn/drive/choice_words.hpp"
#include "words/sentences.hpp"

namespace twoturn {
namespace {

using Align = TextTable::Align;

}  // namespace

AnswerTable pulleys_table(const RouteAnswer& answer) {
  AnswerTable table({{"pulley", "pulley", "name", Align::left},
                     {"runs\non its", "runs on", "face", Align::left},
                     {"goes round\n(wrap) deg", "wrap, deg", "wrap_deg"},
                     {"teeth", "teeth", "teeth"},
                     {"in mesh", "in mesh", "mesh_exact_teeth"},
                     {{}, {}, "teeth_in_mesh"},
                     {"pitch\nradius mm", "pitch radius, mm", "pitch_radius_mm"},
                     {"centre\nright mm", "right, mm", "centre_right_mm"},
                     {"up mm", "up, mm", "centre_up_mm"},
                     {{}, {}, "run_to"},
                     {{}, {}, "run_length_mm"}});
  for (std::size_t i = 0; i < answer.pulleys.size(); ++i) {
    const RoutePulley& pulley = answer.pulleys[i];
    AnswerTable::Cell face = cells::words(pulley.face == Face::back ? "back" : "teeth");
    face.csv = word(pulley.face);
    table.add({cells::words(pulley.name), std::move(face), cells::number(pulley.wrap_deg, 1),
               cells::count(pulley.teeth > 0 ? std::optional(pulley.teeth) : std::nullopt),
               cells::number(pulley.mesh_exact, 1), cells::count(pulley.teeth_in_mesh),
               cells::number(pulley.pitch_radius_mm, 2), cells::number(pulley.centre_mm.x(), 1),
               cells::number(pulley.centre_mm.y(), 1), cells::words(answer.spans[i].to),
               cells::number(answer.spans[i].length_mm, 2)});
  }
  return table;
}

AnswerTable runs_table(const RouteAnswer& answer, std::span<const SeenRun> seen) {
  AnswerTable table({{"run of belt", "run", {}, Align::left},
                     {"length mm", "length, mm", {}},
                     {"", "side", {}, Align::left}});
  for (std::size_t i = 0; i < answer.spans.size(); ++i) {
    const RouteSpan& span = answer.spans[i];
    AnswerTable::Cell side{"", "-", ""};
    if (i == 0) side.text = fmt::format("leaves the crank: {}", sentences::kSlackSide);
    if (i + 1 == answer.spans.size()) {
      side.text = fmt::format("arrives at the crank: {}", sentences::kTightSide);
    }
    if (i < seen.size() && seen[i].side == Side::tight) side.page = sentences::kTightSide;
    if (i < seen.size() && seen[i].side == Side::slack) side.page = sentences::kSlackSide;
    table.add({cells::words(span.from + " to " + span.to), cells::number(span.length_mm, 2),
               std::move(side)});
  }
  return table;
}

AnswerTable travel_table(const TensionerAnswer& answer) {
  const bool swing = answer.kind == TensionerKind::swing;
  AnswerTable table(
      {{swing ? "roller\nclock" : "mm from\nslack end",
        swing ? "roller at clock" : "mm from the slack end", in_unit("at", answer.kind)},
       {"pointer", "pointer at clock", "pointer_deg"},
       {"travel", "travel, 0 slack to 1 tight", "travel"},
       {"centre mm\nright", {}, "centre_right_mm"},
       {"up", {}, "centre_up_mm"},
       {"belt\nmm", "belt length, mm", "length_mm"},
       {"teeth", "teeth", "teeth_exact"},
       {"wrap\ndeg", {}, "wrap_deg"},
       {std::string("mm a\n") + unit(answer.kind), {}, in_unit("rate_mm_per", answer.kind)},
       {{}, {}, "over_centre"},
       {{}, "left to take up, mm", "adjustment_left_mm"},
       {"", {}, "refused", Align::left}});
  for (const TravelRow& row : answer.rows) {
    const TensionerPlace& place = row.place;
    const auto of_belt = [&row](auto member) {
      return row.setting ? std::optional((*row.setting).*member) : std::nullopt;
    };
    const auto known = [](AnswerTable::Cell cell) {
      if (cell.text.empty()) cell.text = "-";
      return cell;
    };
    AnswerTable::Cell length = known(cells::number(of_belt(&Setting::length_mm), 2));
    AnswerTable::Cell teeth = known(cells::number(row.teeth_exact, 2));
    if (row.refused) {
      length.page = "no belt";
      teeth.page = "-";
    }
    const auto over_centre = of_belt(&Setting::over_centre);
    AnswerTable::Cell refused = cells::words(row.refused ? row.refused->text : "");
    refused.text = row.refused ? "no" : "";
    table.add({cells::number(place.reading.value, digits(answer.kind)),
               cells::number(place.pointer_deg, 1), cells::number(place.travel, 2),
               cells::number(place.centre_mm.x(), 1), cells::number(place.centre_mm.y(), 1),
               std::move(length), std::move(teeth), known(cells::number(row.wrap_deg, 1)),
               known(cells::signed_number(of_belt(&Setting::rate), 3)),
               cells::words(over_centre ? sentences::word(*over_centre) : ""),
               cells::number(of_belt(&Setting::adjustment_left_mm), 2), std::move(refused)});
  }
  return table;
}

}  // namespace twoturn
