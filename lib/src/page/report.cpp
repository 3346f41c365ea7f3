#include "twoturn/page/report.hpp"

#include <fmt/format.h>

#include <cctype>

#include "page_files.hpp"
#include "report_parts.hpp"
#include "twoturn/base/names.hpp"
#include "twoturn/base/numbers.hpp"
#include "twoturn/base/utf8.hpp"
#include "twoturn/page/html_page.hpp"
#include "twoturn/picture/draw.hpp"
#include "twoturn/picture/svg.hpp"
#include "words/fault_words.hpp"
#include "words/sentences.hpp"

namespace twoturn {
namespace {

using html::Data;
using html::List;
using html::Object;

const Vec2 kViewMm(150.0, 185.0);
const Vec2 kCandidateMm(82.0, 105.0);

Data flag(bool value) { return value ? Data::type::bool_true : Data::type::bool_false; }

Data printable_texts(const std::vector<std::string>& lines) {
  List list;
  for (const std::string& line : lines) {
    list.push_back(Data(Object{{"text", Data(printable(line))}}));
  }
  return Data(list);
}

Data findings(const CheckAnswer& check) {
  List list;
  for (const ToldFinding& finding : told(check.findings)) {
    std::string level = word(finding.level);
    for (char& letter : level) letter = static_cast<char>(std::toupper(letter));
    list.push_back(Data(Object{{"level", Data(level)},
                               {"about", Data(printable(finding.about))},
                               {"text", Data(printable(finding.text))}}));
  }
  return Data(list);
}

std::string shout_of(Verdict verdict) {
  switch (verdict) {
    case Verdict::stop:
      return "STOP: do not turn it";
    case Verdict::look_again:
      return "Look again";
    case Verdict::agrees:
      break;
  }
  return "On paper it agrees";
}

void add_close_up(List& list, const std::optional<scene::Scene>& scene, const std::string& caption,
                  const std::string& prefix) {
  if (!scene) return;
  list.push_back(Data(Object{{"caption", Data(caption)}, {"svg", Data(svg_of(*scene, prefix))}}));
}

Data close_ups(const BeltView& view, double scale) {
  List list;
  add_close_up(list, eccentric_scene(view, scale), "The eccentric, larger", "ecc-");
  if (view.tooth_out) {
    const std::string& name = view.pulleys[static_cast<std::size_t>(view.tooth_out->pulley)].name;
    add_close_up(list, marks_scene(view), "What the mark of " + printable(the(name)) + " shows",
                 "marks-");
  }
  add_close_up(list, moved_scene(view), "Dashed by the book, full as fitted", "moved-");
  return Data(list);
}

Data timed(const BeltView& view) {
  List list;
  for (const SeenMark& mark : view.marks) {
    if (!mark.belongs || !mark.name.empty()) continue;
    const double at = view.clock_deg(mark.at);
    const std::string& name = view.pulleys[static_cast<std::size_t>(mark.pulley)].name;
    list.push_back(
        Data(Object{{"name", Data(printable(name))},
                    {"index", Data(std::to_string(mark.pulley))},
                    {"mark", Data(fmt::format("{} ({})", fixed(at, 1), sentences::clock_face(at)))},
                    {"error", Data(sentences::error(mark.error_crank_deg, view.direction))}}));
  }
  return Data(list);
}

std::string caption_of(const BeltView& view) {
  std::string text =
      "Seen looking at the belt end, at the timing position. Solid: the tight side, which arrives "
      "at the crank. Dashed: the slack side. Solid triangles are the pulleys' marks, open ones "
      "where they belong, dots on the belt's back the paint.";
  if (view.direction == Direction::given) {
    text += " Numbers: the order in which the belt goes on.";
  }
  if (view.lean.radians() != 0.0) {
    text += fmt::format(
        " Turned {} deg clockwise, as the engine leans; clock positions beside it "
        "too.",
        shortest(-view.lean.degrees(), 1));
  }
  if (!view.is_belt) text += " No belt can run as drawn; the findings say why.";
  return text;
}

Data view_part(const ReportAnswer& report) {
  const BeltView& view = *report.view;
  const MovingView moving = moving_view(view, kViewMm);
  Object object{{"svg", Data(svg_of(moving.scene, "view-"))},
                {"caption", Data(caption_of(view))},
                {"close_ups", close_ups(view, moving.scale)},
                {"timed", timed(view)}};
  object["moves"] = flag(report.motion.has_value());
  return Data(object);
}

// What was seen, what it points to, and the two likeliest beside each other.
Data seen_part(const ReportAnswer& report) {
  const WhySeen& seen = *report.check.seen;
  List steps;
  for (const std::string& step : seen.steps) {
    steps.push_back(Data(Object{{"text", Data(printable(step))}}));
  }
  List pictures;
  for (std::size_t i = 0; i < report.candidates.size(); ++i) {
    const ReportCandidate& candidate = report.candidates[i];
    const scene::Scene scene = view_scene(candidate.view, kCandidateMm, Errors::told);
    const std::string caption =
        fmt::format("{}: {}", sentences::in_hundred(candidate.probability), candidate.title);
    pictures.push_back(
        Data(Object{{"caption", Data(printable(caption))},
                    {"svg", Data(svg_of(scene, fmt::format("candidate-{}-", i + 1)))}}));
  }
  Object object{{"headline", Data(printable(seen.headline + "."))},
                {"steps", Data(steps)},
                {"pictures", Data(pictures)}};
  object["any_next"] = flag(seen.next.has_value());
  if (seen.next) {
    object["next"] = Data(printable(fmt::format(
        "Look next at {}: \"{}\" points to this: {}; \"{}\" to this: {}.", seen.next->look,
        seen.next->if_first, seen.next->first, seen.next->if_second, seen.next->second)));
  }
  return Data(object);
}

Data tables(const ReportAnswer& report) {
  List list;
  for (const report::Table& table : report::tables_of(report)) {
    List rows;
    for (const std::vector<std::string>& row : table.rows) {
      const std::vector<std::string> cells(row.begin() + 1, row.end());
      rows.push_back(
          Data(Object{{"head", Data(printable(row.front()))}, {"cells", printable_texts(cells)}}));
    }
    Object object{{"id", Data(table.id)},
                  {"title", Data(table.title)},
                  {"heads", printable_texts(table.heads)},
                  {"rows", Data(rows)}};
    object["lead"] = table.lead.empty() ? flag(false) : Data(table.lead);
    list.push_back(Data(object));
  }
  return Data(list);
}

std::vector<std::string> open_lines(const CheckAnswer& check) {
  std::vector<std::string> lines;
  for (const Missing& missing : check.not_checked) {
    lines.push_back(fmt::format("{}: {} ({})", missing.answer, missing.measure, missing.key));
  }
  lines.emplace_back("The fitting itself: nobody but you has seen it.");
  return lines;
}

Object page_data(const ReportAnswer& report) {
  const CheckAnswer& check = report.check;
  Object data;
  data["title"] = printable(report.heading.profile);
  data["fit"] = report.heading.build_said ? Data(std::string(sentences::word(report.heading.fit)))
                                          : flag(false);
  data["verdict_class"] = check.verdict == Verdict::stop ? "stop" : "open";
  data["shout"] = shout_of(check.verdict);
  data["headline"] = printable(check.headline);
  data["findings"] = findings(check);
  data["move"] = printable_texts(check.whole_move);
  data["any_move"] = flag(!check.whole_move.empty());
  data["any_findings"] = flag(!check.findings.empty());
  data["seen"] = report.check.seen ? seen_part(report) : flag(false);
  data["view"] = report.view ? view_part(report) : flag(false);
  data["turns"] = check.judged.turns ? report::turns_of(report) : flag(false);
  Data plots = report::plots_of(report);
  data["any_plots"] = flag(!plots.is_empty_list());
  data["plots"] = std::move(plots);
  data["tables"] = tables(report);
  data["open"] = printable_texts(open_lines(check));
  data["cautions"] = printable_texts(check.cautions);
  const bool moves = report.view && report.motion;
  data["motion"] = moves ? Data(report::motion_json(*report.view, *report.motion)) : flag(false);
  return data;
}

}  // namespace

std::string report_html(const ReportAnswer& report, const std::string& order_svg) {
  HtmlPage page;
  page.title = report.heading.profile;
  page.css = std::string(files::kReportCss);
  Object data = page_data(report);
  data["order"] = order_svg.empty() ? flag(false) : Data(order_svg);
  page.body = html::filled(files::kReportHtml, Data(data));
  if (report.view && report.motion) page.script = std::string(files::kReportJs);
  return html_page(page);
}

}  // namespace twoturn
