#include "text_heading.hpp"
#include "twoturn/write/document.hpp"
#include "twoturn/write/text.hpp"

#include <fmt/format.h>

#include <cmath>

#include "document_parts.hpp"
#include "twoturn/base/numbers.hpp"
#include "words/sentences.hpp"

namespace twoturn {
namespace {

using documents::Json;
using documents::number;

constexpr int kMm = 4;    // digits on the board: enough to follow to a thousandth
constexpr int kUnit = 6;  // and for directions

std::string mm(double value) { return fixed(value, kMm); }

std::string point(const Vec2& at) { return fmt::format("({}, {})", mm(at.x()), mm(at.y())); }

std::string radius_line(const char* symbol, const WorkingRadius& radius) {
  const std::string sum =
      radius.teeth > 0 ? fmt::format("{} x {} / (2 pi)", shortest(radius.pitch_mm, 4), radius.teeth)
                       : fmt::format("{} / 2 + {}", shortest(radius.diameter_mm, 3),
                                     shortest(radius.to_pitch_line_mm, 4));
  return fmt::format("  r_{} = {} = {} mm, {} (s_{} = {:+d})\n", symbol, sum,
                     mm(radius.pitch_radius_mm), radius.sense > 0 ? "anticlockwise" : "clockwise",
                     symbol, radius.sense);
}

std::string run_lines(const WorkingRun& run) {
  std::string text = fmt::format("\nFrom i = {} to j = {}\n", run.from.name, run.to.name);
  text += radius_line("i", run.from) + radius_line("j", run.to);
  text += fmt::format("  d = c_j - c_i = {} - {}\n    = {}\n", point(run.to.centre_mm),
                      point(run.from.centre_mm), point(run.across_mm));
  text += fmt::format("  D = |d| = {} mm\n", mm(run.distance_mm));
  text += fmt::format("  k = s_j r_j - s_i r_i = {} mm\n", mm(run.k_mm));
  text += fmt::format("  l = sqrt((D - |k|)(D + |k|)) = sqrt({} x {}) = {} mm\n",
                      mm(run.distance_mm - std::abs(run.k_mm)),
                      mm(run.distance_mm + std::abs(run.k_mm)), mm(run.length_mm));
  text += fmt::format("  u = (l d + k (d_y, -d_x)) / D^2 = ({}, {})\n",
                      fixed(run.direction.x(), kUnit), fixed(run.direction.y(), kUnit));
  text +=
      fmt::format("  leaves i at {}, meets j at {}\n", point(run.leaves_mm), point(run.meets_mm));
  return text;
}

Json point_of(const Vec2& at) { return documents::point(at); }

Json radius_of(const WorkingRadius& radius) {
  return {{"name", radius.name},
          {"teeth", radius.teeth > 0 ? Json(radius.teeth) : Json(nullptr)},
          {"pitch_mm", number(radius.pitch_mm)},
          {"diameter_mm", number(radius.diameter_mm)},
          {"to_pitch_line_mm", number(radius.to_pitch_line_mm)},
          {"pitch_radius_mm", number(radius.pitch_radius_mm)},
          {"sense", radius.sense},
          {"centre_mm", point_of(radius.centre_mm)}};
}

}  // namespace

std::string working_text(const Heading& heading, const WorkingAnswer& answer) {
  std::string text = sentences::wrapped(
      fmt::format("The belt's path step by step: {} mm, {} teeth of {} mm.", mm(answer.length_mm),
                  fixed(answer.teeth_exact, kMm), shortest(answer.pitch_mm, 4)));
  text += sentences::heading(heading);
  text += sentences::wrapped(
      "c: centre, right and up from the crank; r: pitch radius; s: +1 where the belt goes round "
      "anticlockwise; l: length of the run; u: its direction.");
  for (const WorkingRun& run : answer.runs) text += run_lines(run);
  text += "\nArcs: pitch radius x wrap in radians\n";
  for (const WorkingArc& arc : answer.arcs) {
    text += fmt::format("  {}: {} x {} deg x pi / 180 = {} mm\n", arc.name, mm(arc.pitch_radius_mm),
                        mm(arc.wrap_deg), mm(arc.length_mm));
  }
  text += fmt::format("\nAll runs {} + all arcs {} = {} mm; / {} = {} teeth\n", mm(answer.runs_mm),
                      mm(answer.arcs_mm), mm(answer.length_mm), shortest(answer.pitch_mm, 4),
                      fixed(answer.teeth_exact, kMm));
  return text;
}

std::string working_document(const Heading& heading, const WorkingAnswer& answer) {
  Json document = documents::head(heading);
  Json runs = Json::array();
  for (const WorkingRun& run : answer.runs) {
    runs.push_back({{"from", radius_of(run.from)},
                    {"to", radius_of(run.to)},
                    {"across_mm", point_of(run.across_mm)},
                    {"distance_mm", number(run.distance_mm)},
                    {"k_mm", number(run.k_mm)},
                    {"less_k_mm", number(run.distance_mm - std::abs(run.k_mm))},
                    {"plus_k_mm", number(run.distance_mm + std::abs(run.k_mm))},
                    {"length_mm", number(run.length_mm)},
                    {"direction", point_of(run.direction)},
                    {"leaves_mm", point_of(run.leaves_mm)},
                    {"meets_mm", point_of(run.meets_mm)}});
  }
  Json arcs = Json::array();
  for (const WorkingArc& arc : answer.arcs) {
    arcs.push_back({{"name", arc.name},
                    {"pitch_radius_mm", number(arc.pitch_radius_mm)},
                    {"wrap_deg", number(arc.wrap_deg)},
                    {"length_mm", number(arc.length_mm)}});
  }
  document["working"] = {{"runs", std::move(runs)},
                         {"arcs", std::move(arcs)},
                         {"runs_mm", number(answer.runs_mm)},
                         {"arcs_mm", number(answer.arcs_mm)},
                         {"length_mm", number(answer.length_mm)},
                         {"pitch_mm", number(answer.pitch_mm)},
                         {"teeth_exact", number(answer.teeth_exact)}};
  return documents::printed(document);
}

}  // namespace twoturn
