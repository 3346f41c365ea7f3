// Plots of what the hand feels and the belt does over two turns.
#include <fmt/format.h>

#include "report_parts.hpp"
#include "twoturn/base/numbers.hpp"

namespace twoturn::report {
namespace {

// Every so many steps: two crank deg are finer than a line is drawn.
constexpr std::size_t kEvery = 4;

Plot empty_plot(const FeelAnswer& feel, std::string title, std::string y_words) {
  constexpr double kFiguresDeg = 90.0;
  Plot plot;
  plot.title = std::move(title);
  plot.x_words = feel.at_engine_place ? "crank deg from pins in"
                                      : "crank deg past cylinder 1's firing top dead centre";
  plot.y_words = std::move(y_words);
  plot.x_step = kFiguresDeg;
  if (feel.at_engine_place) plot.along = Plot::Along::two_turns;
  return plot;
}

template <class Value>
PlotLine line_of(const FeelAnswer& feel, std::string name, const Value& value) {
  PlotLine line{std::move(name), {}};
  for (std::size_t k = 0; k < feel.steps.size(); k += kEvery) {
    if (const std::optional<double> y = value(feel.steps[k])) {
      line.points.emplace_back(feel.steps[k].crank_deg, *y);
    }
  }
  return line;
}

std::optional<double> nth(const std::vector<double>& values, std::size_t k) {
  return k < values.size() ? std::optional(values[k]) : std::nullopt;
}

std::optional<Plot> tension_plot(const ReportAnswer& report) {
  const FeelAnswer& feel = *report.feel;
  if (!feel.belt) return std::nullopt;
  Plot plot = empty_plot(feel, "The belt's tension while you turn", "N in each run");
  for (std::size_t k = 0; k < feel.belt->runs.size(); ++k) {
    const FeelRun& run = feel.belt->runs[k];
    plot.lines.push_back(line_of(feel, fmt::format("{} to {}", run.from, run.to),
                                 [k](const FeelStep& step) { return nth(step.tension_n, k); }));
  }
  plot.rules.push_back({PlotRule::Across::y, feel.belt->static_n,
                        fmt::format("without a load: {} N", fixed(feel.belt->static_n, 0))});
  return plot;
}

std::optional<Plot> stretch_plot(const ReportAnswer& report) {
  const FeelAnswer& feel = *report.feel;
  if (!feel.belt) return std::nullopt;
  constexpr double kLeastDeg = 0.5;
  Plot plot = empty_plot(feel, "What the belt's stretch does to the timing while you turn",
                         early_up(report));
  plot.least_height = kLeastDeg;
  for (std::size_t k = 0; k < feel.belt->shafts.size(); ++k) {
    plot.lines.push_back(line_of(feel, feel.belt->shafts[k].name, [k](const FeelStep& step) {
      return nth(step.ahead_crank_deg, k);
    }));
  }
  plot.rules.push_back({PlotRule::Across::y, 0.0, "a belt without give"});
  return plot;
}

}  // namespace

std::vector<Plot> force_plots(const ReportAnswer& report) {
  std::vector<Plot> plots;
  if (!report.feel) return plots;
  for (const auto make : {tension_plot, stretch_plot}) {
    std::optional<Plot> plot = make(report);
    if (plot && !plot->lines.empty() && plot->lines.front().points.size() > 1) {
      plots.push_back(std::move(*plot));
    }
  }
  return plots;
}

}  // namespace twoturn::report
