#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "report_parts.hpp"
#include "twoturn/base/numbers.hpp"
#include "twoturn/base/utf8.hpp"
#include "twoturn/picture/engine_picture.hpp"
#include "twoturn/picture/plot.hpp"
#include "twoturn/picture/svg.hpp"
#include "words/sentences.hpp"
#include "words/sentences_spread.hpp"
#include "write/document_parts.hpp"

namespace twoturn::report {

using html::Data;
using html::List;
using html::Object;

namespace {

const Vec2 kPlotMm(112.0, 72.0);

std::optional<Plot> errors_plot(const ReportAnswer& report) {
  if (!report.motion || !report.view) return std::nullopt;
  const Motion& motion = *report.motion;
  Plot plot;
  plot.title = "Timing error of each shaft over two turns";
  plot.x_words = "crank deg from the timing position";
  plot.y_words = early_up(report);
  constexpr double kLeastDeg = 1.0;
  constexpr double kFiguresDeg = 90.0;
  plot.least_height = kLeastDeg;
  plot.x_step = kFiguresDeg;
  plot.along = Plot::Along::two_turns;
  for (std::size_t i = 1; i < motion.pulley_errors.size(); ++i) {
    if (motion.pulley_errors[i].empty()) continue;
    PlotLine line;
    line.name = report.view->pulleys[i].name;
    for (std::size_t k = 0; k < motion.crank_deg.size(); ++k) {
      line.points.emplace_back(motion.crank_deg[k], motion.pulley_errors[i][k]);
    }
    plot.lines.push_back(std::move(line));
  }
  if (plot.lines.empty()) return std::nullopt;
  plot.rules.push_back({PlotRule::Across::y, 0.0, "right"});
  return plot;
}

std::optional<Plot> length_plot(const ReportAnswer& report) {
  if (!report.curve) return std::nullopt;
  const TensionerAnswer& curve = *report.curve;
  Plot plot;
  plot.title = "Belt length against the tensioner's setting";
  plot.x_words = "travel, 0 at the slack end, 1 at the tight end";
  plot.y_words = "length of the belt's path, mm";
  PlotLine line;
  for (const TravelRow& row : curve.rows) {
    if (row.setting) line.points.emplace_back(row.setting->travel, row.setting->length_mm);
  }
  if (line.points.size() < 2) return std::nullopt;
  plot.lines.push_back(std::move(line));
  if (curve.belt_teeth && report.view) {
    const double length = *curve.belt_teeth * report.view->pitch_mm;
    plot.rules.push_back(
        {PlotRule::Across::y, length,
         fmt::format("the belt fitted: {}, {} mm", counted(*curve.belt_teeth, "tooth", "teeth"),
                     fixed(length, 2))});
  }
  for (const Setting& setting : curve.settings) {
    const bool meant = curve.meant && setting.q == curve.meant->q;
    if (!setting.in_travel) continue;
    plot.points.push_back({Vec2(setting.travel, setting.length_mm),
                           meant ? "set here" : "not here: past over centre"});
  }
  if (curve.maker) {
    plot.rules.push_back({PlotRule::Across::x, curve.maker->travel, "the maker's marks"});
  }
  return plot;
}

// The bars' outline, from nothing to nothing.
PlotLine outline_of(const SpreadAnswer& spread) {
  constexpr double kHundred = 100.0;
  const auto assembled = static_cast<double>(spread.samples - spread.not_assembled);
  PlotLine line;
  const auto go_to = [&line](double x, double y) { line.points.emplace_back(x, y); };
  double last = spread.bins.front().from;
  go_to(last, 0.0);
  for (const SpreadBin& bin : spread.bins) {
    const double share = kHundred * static_cast<double>(bin.count) / assembled;
    const double width = bin.to - bin.from;
    if (bin.from > last + width / 2.0) {
      go_to(last, 0.0);
      go_to(bin.from, 0.0);
    }
    go_to(bin.from, share);
    go_to(bin.to, share);
    last = bin.to;
  }
  go_to(last, 0.0);
  return line;
}

std::string x_words(const SpreadAnswer& spread) {
  if (!spread.kind) return "mm, below 0 too short";
  if (spread.kind == TensionerKind::slide) return "mm from the slack end";
  constexpr double kRound = 360.0;
  const bool past = spread.bins.front().from < 0.0 || spread.bins.back().to > kRound;
  return past ? "clock deg of the roller, counted on past 12 o'clock" : "clock deg of the roller";
}

std::optional<Plot> spread_plot(const ReportAnswer& report) {
  if (!report.spread || report.spread->bins.empty()) return std::nullopt;
  const SpreadAnswer& spread = *report.spread;
  Plot plot;
  plot.title = spread.kind ? "Where the tensioner may stand" : "How much the belt may be too long";
  plot.x_words = x_words(spread);
  plot.y_words = "in 100 of the drives that go together";
  plot.lines.push_back(outline_of(spread));
  const auto rule = [&plot](double x, const char* words) {
    plot.rules.push_back({PlotRule::Across::x, x, words});
  };
  rule(spread.reading.low, "95 in 100 from here");
  rule(spread.nominal, "as given");
  rule(spread.reading.high, "to here");
  return plot;
}

// What stands under it.
List spread_lines(const SpreadAnswer& spread) {
  List lines;
  const auto add = [&lines](const std::string& text) {
    lines.push_back(Data(Object{{"text", Data(printable(text))}}));
  };
  add(sentences::spread_first_line(spread) + " " + sentences::spread_thrown(spread));
  for (const SpreadError& error : spread.errors) {
    if (error.spreads) add("Timing error. " + sentences::spread_error(spread, error));
  }
  return lines;
}

}  // namespace

std::string early_up(const ReportAnswer& report) {
  const std::optional<TurnsAnswer>& turns = report.check.judged.turns;
  const bool known = turns && turns->assembly.fitted.direction == Direction::given;
  return known ? "crank deg, early up, late down" : "crank deg, one way up, the other down";
}

namespace {

// Where the crank's mark points with pins in, as it is drawn.
std::optional<CrankMark> crank_mark(const ReportAnswer& report) {
  if (!report.view) return std::nullopt;
  const BeltView& view = *report.view;
  for (const SeenMark& mark : view.marks) {
    if (mark.pulley == 0 && mark.name.empty()) {
      return CrankMark{mark.at + view.lean, view.pulleys.front().sense};
    }
  }
  return std::nullopt;
}

// A figure and what stands under it.
void add_figure(List& list, const std::string& svg, const std::string& words = "") {
  Object object{{"svg", Data(svg)}};
  object["any_lines"] = words.empty() ? Data::type::bool_false : Data::type::bool_true;
  object["lines"] = Data(List{Data(Object{{"text", Data(words)}})});
  list.push_back(Data(object));
}

void add_rounds(List& list, const ReportAnswer& report) {
  const std::optional<CrankMark> mark = crank_mark(report);
  if (!mark) return;
  const std::string how =
      "Round it as the crank's mark goes in the picture above: first turn on the inner ring, "
      "second on the outer one. ";
  if (const auto round = room_round(report.nearest, *mark)) {
    add_figure(list, svg_of(two_turns_scene(*round), "room-"),
               how +
                   "Outside each ring the hatched part is what valve and piston take of the room "
                   "between them: where it comes down to the ring they touch; 12 mm and more is "
                   "left white. Inside it: how far each valve is open.");
  }
  if (!report.feel) return;
  if (const auto round = torque_round(*report.feel, report.nearest, *mark)) {
    add_figure(list, svg_of(two_turns_scene(*round), "torque-"),
               how + "Outside a ring you pull, inside it the springs turn the crank on.");
  }
}

}  // namespace

Data plots_of(const ReportAnswer& report) {
  List list;
  add_rounds(list, report);
  int number = 0;
  const auto add = [&](const Plot& plot) {
    add_figure(list, svg_of(plot_scene(plot, kPlotMm), fmt::format("plot{}-", ++number)));
  };
  if (const std::optional<Plot> plot = errors_plot(report)) add(*plot);
  for (const Plot& plot : force_plots(report)) add(plot);
  if (const std::optional<Plot> plot = length_plot(report)) add(*plot);
  if (const std::optional<Plot> plot = spread_plot(report)) {
    list.push_back(Data(Object{{"svg", Data(svg_of(plot_scene(*plot, kPlotMm), "spread-"))},
                               {"any_lines", Data(Data::type::bool_true)},
                               {"lines", Data(spread_lines(*report.spread))}}));
  }
  return Data(list);
}

std::string motion_json(const BeltView& view, const Motion& motion) {
  documents::Json json;
  json["step_deg"] = motion.crank_deg.size() > 1 ? motion.crank_deg[1] - motion.crank_deg[0] : 1.0;
  json["belt_teeth_count"] = motion.belt_count;
  json["first_tooth"] = motion.first_tooth;
  json["belt_teeth"] = motion.belt_teeth;
  json["pulley_deg"] = motion.pulley_deg;
  json["error_crank_deg"] = motion.pulley_errors;
  json["mark_pulleys"] = documents::Json::array();
  json["pin_pulleys"] = documents::Json::array();
  json["paint_teeth"] = documents::Json::array();
  json["timed"] = documents::Json::array();
  for (const SeenMark& mark : view.marks) {
    json["mark_pulleys"].push_back(mark.pulley);
    if (!mark.belongs || !mark.name.empty()) continue;
    const double at = view.clock_deg(mark.at);
    json["timed"].push_back({{"pulley", mark.pulley}, {"mark_deg", at}});
  }
  for (const SeenPin& pin : view.pins) json["pin_pulleys"].push_back(pin.pulley);
  for (const SeenTooth& tooth : view.teeth) {
    if (tooth.paint) json["paint_teeth"].push_back(tooth.number);
  }
  std::string text = json.dump();
  // Nothing in it may end the script element.
  for (std::size_t at = text.find('<'); at != std::string::npos; at = text.find('<', at)) {
    text.replace(at, 1, "\\u003c");
  }
  return text;
}

}  // namespace twoturn::report
