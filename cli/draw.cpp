#include "twoturn/picture/draw.hpp"

#include <memory>

#include "commands.hpp"
#include "target.hpp"
#include "twoturn/picture/svg.hpp"
#include "twoturn/study/no_answer.hpp"
#include "twoturn/study/view.hpp"
#include "twoturn/write/document.hpp"
#include "twoturn/write/text.hpp"

namespace twoturn::cli {
namespace {

struct Options {
  Asked asked;
  Target target;
  double crank_deg = 0.0;
  bool true_size = false;
  bool degree_wheel = false;
  bool belt_strip = false;
};

struct Picture {
  PictureKind kind = PictureKind::belt_end;
  std::vector<scene::Scene> pages;
};

bool ends_with(const std::string& text, const std::string& end) {
  return text.size() >= end.size() && text.compare(text.size() - end.size(), end.size(), end) == 0;
}

const BeltView& required(const std::optional<BeltView>& view, const char* option) {
  if (view) return *view;
  throw UsageError(std::string(option) +
                   ": the profile does not say where the pulleys stand, so nothing can be drawn to "
                   "size; \"twoturn route\" lists what is missing");
}

Picture picture_asked(const Options& options, const DriveSpec& spec, const CheckAnswer& answer) {
  if (options.degree_wheel) return {PictureKind::degree_wheel, {degree_wheel(spec)}};
  const std::optional<BeltView> view = view_of(spec, answer, options.crank_deg);
  if (options.true_size) {
    return {PictureKind::true_size, true_size_pages(required(view, "--true-size"))};
  }
  if (options.belt_strip) {
    std::vector<scene::Scene> pages = belt_strip(required(view, "--belt-strip"));
    if (pages.empty()) {
      throw UsageError("--belt-strip: the belt's teeth are not given (belt.teeth)");
    }
    return {PictureKind::belt_strip, std::move(pages)};
  }
  if (!view) {
    if (options.crank_deg != 0.0) required(view, "--crank");
    return {PictureKind::threading, {threading_diagram(spec, answer)}};
  }
  if (options.crank_deg != 0.0 && !view->phase_known) {
    throw UsageError("--crank: no belt is on in this drive, so nothing turns with the crank");
  }
  return {PictureKind::belt_end, {drawing_of(*view, answer)}};
}

// One page is an SVG file unless HTML is asked for; several are pages of an HTML file.
std::string file_text(const Target& target, const std::string& title, const Picture& picture) {
  const bool several = picture.pages.size() > 1;
  if (several && ends_with(target.path, ".svg")) {
    throw UsageError("-o " + target.path + ": this takes " + std::to_string(picture.pages.size()) +
                     " pages; give the file a name that ends in .html");
  }
  if (several || ends_with(target.path, ".html")) return pages_html(title, picture.pages);
  return svg_of(picture.pages.front());
}

Output run(const Options& options) {
  const Asked& asked = options.asked;
  if (asked.json && !options.target.is_file()) {
    throw UsageError("--json tells of the file written: it goes with -o FILE");
  }
  const Target& target = options.target;
  if (target.is_file() && !ends_with(target.path, ".svg") && !ends_with(target.path, ".html")) {
    throw UsageError("-o " + target.path + ": a picture's name ends in .svg or .html");
  }
  const DriveSpec spec = read_spec(asked);
  const Heading heading = heading_for(asked, spec, "draw");
  if (spec.pulleys.empty() && !options.degree_wheel) {
    return none(asked, heading, not_enough_given("a picture of the belt end"));
  }
  const CheckAnswer answer = check_drive(spec, asked.fit());
  const Picture picture = picture_asked(options, spec, answer);
  const std::string text = file_text(target, heading.profile, picture);
  write_to(target, text);
  const int code = exit_code(asked, answer.verdict);
  if (!target.is_file()) return {text, code};
  const PictureMade made{picture.kind, target.path, text.size(),
                         static_cast<int>(picture.pages.size()), options.crank_deg};
  if (asked.json) return {draw_document(heading, made, answer), code};
  return {draw_text(made, answer), code};
}

}  // namespace

void add_draw(Program& program, Job& job) {
  const auto options = std::make_shared<Options>();
  program.command(
      "draw", "the belt end as a picture: belt, teeth, marks, tensioner, names",
      [options, &job](const Command& command) {
        add_common(command, options->asked, Profile::required, Table::none, Verdict::none);
        add_target(command, options->target);
        constexpr double kMostDeg = 1e6;
        command
            .option(
                "--crank", options->crank_deg,
                "the moment shown: crank deg from the timing position, in the running direction")
            .hint("DEG")
            .within(-kMostDeg, kMostDeg);
        const Option true_size =
            command.flag("--true-size", options->true_size,
                         "at full size over as many A4 pages as it takes, to lay on the engine");
        const Option wheel = command.flag("--degree-wheel", options->degree_wheel,
                                          "a degree wheel for the crank's nose, to cut out");
        command
            .flag("--belt-strip", options->belt_strip,
                  "the belt's teeth at true pitch, numbered, to cut out")
            .excludes(true_size)
            .excludes(wheel);
        true_size.excludes(wheel);
        command.when_chosen([options, &job] { job = [options] { return run(*options); }; });
      });
}

}  // namespace twoturn::cli
