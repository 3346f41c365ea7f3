#include "twoturn/picture/svg.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <set>

#include "twoturn/base/numbers.hpp"

namespace twoturn {
namespace {

using namespace scene;

constexpr double kCapitalsPerSize = 0.72;  // of common sans-serif faces

// A stroke on paper, mm. Dashes are what tells lines of one width apart.
struct Stroke {
  std::string_view name;
  double width_mm;
  std::string_view dashes;
};

// Widths are those of ISO 128: each the root of two wider than the one before.
constexpr std::array kStrokes{
    Stroke{"outline", 0.5, ""},        Stroke{"thin", 0.25, ""},
    Stroke{"guide", 0.25, "6 1 1 1"},  Stroke{"hidden", 0.35, "2 1"},
    Stroke{"belt", 1.4, ""},           Stroke{"tight-run", 1.4, ""},
    Stroke{"slack-run", 1.4, "4 1.6"}, Stroke{"inside", 0.7, ""},
    Stroke{"heavy", 0.7, ""},          Stroke{"tooth", 0.35, ""},
    Stroke{"contour", 0.25, ""},       Stroke{"main-contour", 0.7, ""},
};

const Stroke& stroke_of(Pen pen) { return kStrokes[static_cast<std::size_t>(pen)]; }

// What is left of a number of mm in print: a thousandth.
std::string number(double value) { return shortest(value, 3); }

// U+FFFE and U+FFFF, which XML cannot hold.
bool no_character(std::string_view text, std::size_t at) {
  return text.substr(at, 3) == "\xEF\xBF\xBE" || text.substr(at, 3) == "\xEF\xBF\xBF";
}

// UTF-8 goes through; what XML cannot hold becomes a question mark.
std::string escaped(std::string_view text) {
  std::string safe;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const char c = text[i];
    if (no_character(text, i)) {
      safe += '?';
      i += 2;
      continue;
    }
    switch (c) {
      case '&':
        safe += "&amp;";
        break;
      case '<':
        safe += "&lt;";
        break;
      case '>':
        safe += "&gt;";
        break;
      case '"':
        safe += "&quot;";
        break;
      default:
        safe += static_cast<unsigned char>(c) < 0x20 && c != '\n' && c != '\t' ? '?' : c;
    }
  }
  return safe;
}

class Writer {
 public:
  Writer(const Scene& scene, const std::string& prefix)
      : scene_(scene), prefix_(prefix), top_(scene.corner_mm.y() + scene.size_mm.y()) {}

  std::string write() {
    for (const Item& item : scene_.items) put(item, 1);
    const std::string body = std::move(out_);
    const std::string width = number(scene_.size_mm.x());
    const std::string height = number(scene_.size_mm.y());
    out_ = fmt::format(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{}mm\" height=\"{}mm\" "
        "viewBox=\"0 0 {} {}\" role=\"img\">\n",
        width, height, width, height);
    out_ += fmt::format("  <title>{}</title>\n", escaped(scene_.title));
    if (!scene_.description.empty()) {
      out_ += fmt::format("  <desc>{}</desc>\n", escaped(scene_.description));
    }
    put_styles();
    put_hatches();
    out_ += fmt::format("  <rect width=\"{}\" height=\"{}\" fill=\"#fff\"/>\n", width, height);
    return out_ + body + "</svg>\n";
  }

 private:
  std::string x(double value) const { return number(value - scene_.corner_mm.x()); }
  std::string y(double value) const { return number(top_ - value); }
  std::string xy(const Vec2& point) const { return x(point.x()) + ' ' + y(point.y()); }

  void line(int depth, const std::string& text) {
    out_ += std::string(2 * static_cast<std::size_t>(depth), ' ') + text + '\n';
  }

  void put_styles() {
    out_ +=
        "  <style>\n    @media screen { svg:root { max-width: 100%; height: auto } }\n"
        "    .line { fill: none; stroke-linecap: butt; stroke-linejoin: round }\n";
    for (const Pen pen : pens_) {
      const Stroke& stroke = stroke_of(pen);
      out_ += fmt::format(
          "    .{} {{ stroke: {}; stroke-linejoin: round; stroke-width: {}{} }}\n", stroke.name,
          pen == Pen::inside ? "#fff" : "#000", number(stroke.width_mm),
          stroke.dashes.empty() ? "" : fmt::format("; stroke-dasharray: {}", stroke.dashes));
    }
    if (labels_) {
      out_ +=
          "    text { font-family: 'DejaVu Sans', Verdana, Arial, sans-serif; fill: #000 }\n"
          "    .cleared { paint-order: stroke; stroke: #fff; stroke-width: 1; "
          "stroke-linejoin: round }\n";
    }
    out_ += "  </style>\n";
  }

  void put_hatches() {
    if (hatches_.empty()) return;
    out_ += "  <defs>\n";
    const auto pattern = [&](Fill fill, double cell, std::string_view inside) {
      if (hatches_.count(fill) == 0) return;
      out_ += fmt::format(
          "    <pattern id=\"{}{}\" width=\"{}\" height=\"{}\" patternUnits=\"userSpaceOnUse\"{}>"
          "{}</pattern>\n",
          prefix_, hatch_name(fill), number(cell), number(cell),
          fill == Fill::dots ? "" : " patternTransform=\"rotate(45)\"", inside);
    };
    pattern(Fill::light_hatch, 2.4,
            "<path d=\"M0 1.2H2.4\" stroke=\"#000\" stroke-width=\"0.2\"/>");
    pattern(Fill::dense_hatch, 1.6,
            "<path d=\"M0 0.8H1.6M0.8 0V1.6\" stroke=\"#000\" stroke-width=\"0.22\"/>");
    pattern(Fill::dots, 2.0, "<circle cx=\"1\" cy=\"1\" r=\"0.28\"/>");
    out_ += "  </defs>\n";
  }

  static std::string_view hatch_name(Fill fill) {
    switch (fill) {
      case Fill::light_hatch:
        return "light-hatch";
      case Fill::dense_hatch:
        return "dense-hatch";
      case Fill::dots:
        return "dots";
      default:
        return "";
    }
  }

  std::string fill_attribute(Fill fill) {
    switch (fill) {
      case Fill::none:
        return "none";
      case Fill::paper:
        return "#fff";
      case Fill::ink:
        return "#000";
      default:
        hatches_.insert(fill);
        return fmt::format("url(#{}{})", prefix_, hatch_name(fill));
    }
  }

  std::string stroke_class(Pen pen) {
    pens_.insert(pen);
    return fmt::format("line {}", stroke_of(pen).name);
  }

  std::string shape_class(Pen pen) {
    pens_.insert(pen);
    return std::string(stroke_of(pen).name);
  }

  void put(const Item& item, int depth) {
    std::visit([&](const auto& shape) { put_shape(shape, depth); }, item.shape);
  }

  void put_shape(const Line& shape, int depth) {
    line(depth, fmt::format("<path class=\"{}\" d=\"M{}L{}\"/>", stroke_class(shape.pen),
                            xy(shape.from_mm), xy(shape.to_mm)));
    put_arrows(shape.arrow, shape.from_mm, shape.from_mm - shape.to_mm, shape.to_mm,
               shape.to_mm - shape.from_mm, shape.pen, depth);
  }

  void put_shape(const Polyline& shape, int depth) {
    if (shape.points_mm.size() < 2) return;
    line(depth, fmt::format("<path class=\"{}\" d=\"{}{}\"/>", stroke_class(shape.pen),
                            through(shape.points_mm), shape.ends == Ends::joined ? "Z" : ""));
  }

  std::string through(const std::vector<Vec2>& points) const {
    std::string path = "M" + xy(points.front());
    for (std::size_t i = 1; i < points.size(); ++i) path += "L" + xy(points[i]);
    return path;
  }

  static Vec2 on_circle(const Vec2& centre, double radius, Angle at) {
    return centre + radius * Vec2(std::cos(at.radians()), std::sin(at.radians()));
  }

  // An arc to where it ends. Halves, since an arc of a whole turn would be none.
  std::string arc_to(const Vec2& centre, double radius, Angle from, Angle sweep) const {
    std::string path;
    for (const double share : {0.5, 1.0}) {
      path += fmt::format("A{} {} 0 0 {} {}", number(radius), number(radius),
                          sweep.radians() > 0.0 ? 0 : 1,
                          xy(on_circle(centre, radius, from + share * sweep)));
    }
    return path;
  }

  void put_shape(const Arc& shape, int depth) {
    if (std::abs(shape.sweep.radians()) >= kFullTurn) {
      put_shape(Circle{shape.centre_mm, shape.radius_mm, shape.pen, Fill::none}, depth);
      return;
    }
    const Angle end = shape.from + shape.sweep;
    const Vec2 start_mm = on_circle(shape.centre_mm, shape.radius_mm, shape.from);
    const Vec2 end_mm = on_circle(shape.centre_mm, shape.radius_mm, end);
    line(depth,
         fmt::format("<path class=\"{}\" d=\"M{}{}\"/>", stroke_class(shape.pen), xy(start_mm),
                     arc_to(shape.centre_mm, shape.radius_mm, shape.from, shape.sweep)));
    const double sense = shape.sweep.radians() > 0.0 ? 1.0 : -1.0;
    const auto ahead = [](Angle at) {
      return Vec2(-std::sin(at.radians()), std::cos(at.radians()));
    };
    put_arrows(shape.arrow, start_mm, -sense * ahead(shape.from), end_mm, sense * ahead(end),
               shape.pen, depth);
  }

  void put_shape(const Circle& shape, int depth) {
    line(depth, fmt::format("<circle class=\"{}\" cx=\"{}\" cy=\"{}\" r=\"{}\" fill=\"{}\"/>",
                            shape_class(shape.pen), x(shape.centre_mm.x()), y(shape.centre_mm.y()),
                            number(shape.radius_mm), fill_attribute(shape.fill)));
  }

  void put_shape(const Curve& shape, int depth) {
    std::string path = "M" + xy(shape.start_mm);
    Vec2 here = shape.start_mm;
    for (const CurvePiece& piece : shape.pieces) {
      if (!piece.centre_mm) {
        path += "L" + xy(piece.end_mm);
      } else {
        const Vec2 out = here - *piece.centre_mm;
        const Vec2 back = piece.end_mm - *piece.centre_mm;
        const Angle from = Angle::radians(std::atan2(out.y(), out.x()));
        const Angle to = Angle::radians(std::atan2(back.y(), back.x()));
        const double turn = (piece.sense * (to - from)).wrapped_turn().radians();
        path += arc_to(*piece.centre_mm, out.norm(), from, Angle::radians(piece.sense * turn));
      }
      here = piece.end_mm;
    }
    line(depth,
         fmt::format("<path class=\"{}\" d=\"{}{}\" fill=\"{}\"/>", shape_class(shape.pen), path,
                     shape.ends == Ends::joined ? "Z" : "", fill_attribute(shape.fill)));
  }

  void put_shape(const Area& shape, int depth) {
    std::string path;
    for (const std::vector<Vec2>& outline : shape.outlines_mm) {
      if (outline.size() >= 3) path += through(outline) + "Z";
    }
    if (path.empty()) return;
    const std::string edge =
        shape.edge ? fmt::format(" class=\"{}\"", shape_class(*shape.edge)) : "";
    line(depth, fmt::format("<path{} d=\"{}\" fill=\"{}\" fill-rule=\"evenodd\"/>", edge, path,
                            fill_attribute(shape.fill)));
  }

  void put_shape(const Label& shape, int depth) {
    labels_ = true;
    const double height = std::max(shape.height_mm, kLeastTextMm);
    constexpr std::array kAnchors{"start", "middle", "end"};
    const double down = shape.upwards == Upwards::foot     ? 0.0
                        : shape.upwards == Upwards::middle ? height / 2.0
                                                           : height;
    std::string attributes = fmt::format(" font-size=\"{}\"", number(height / kCapitalsPerSize));
    if (shape.across != Across::left) {
      attributes +=
          fmt::format(" text-anchor=\"{}\"", kAnchors[static_cast<std::size_t>(shape.across)]);
    }
    if (shape.weight == Weight::bold) attributes += " font-weight=\"bold\"";
    if (shape.ground == Ground::cleared) attributes += " class=\"cleared\"";
    const double turned = shape.turned.degrees();
    if (turned == 0.0) {
      attributes =
          fmt::format(" x=\"{}\" y=\"{}\"", x(shape.at_mm.x()), y(shape.at_mm.y() - down)) +
          attributes;
    } else {
      attributes = fmt::format(" y=\"{}\" transform=\"translate({}) rotate({})\"", number(down),
                               xy(shape.at_mm), number(-turned)) +
                   attributes;
    }
    line(depth, fmt::format("<text{}>{}</text>", attributes, escaped(shape.text)));
  }

  void put_shape(const Group& shape, int depth) {
    std::string attributes;
    if (!shape.kind.empty()) attributes += fmt::format(" class=\"{}\"", escaped(shape.kind));
    if (shape.pivot_mm) {
      attributes += fmt::format(" data-x=\"{}\" data-y=\"{}\"", x(shape.pivot_mm->x()),
                                y(shape.pivot_mm->y()));
    }
    line(depth, fmt::format("<g{}>", attributes));
    if (!shape.title.empty()) {
      line(depth + 1, fmt::format("<title>{}</title>", escaped(shape.title)));
    }
    for (const Item& item : shape.items) put(item, depth + 1);
    line(depth, "</g>");
  }

  void put_arrows(Arrow arrow, const Vec2& start, const Vec2& out_of_start, const Vec2& end,
                  const Vec2& out_of_end, Pen pen, int depth) {
    if (arrow == Arrow::none) return;
    put_head(end, out_of_end, pen, depth);
    if (arrow == Arrow::at_both) put_head(start, out_of_start, pen, depth);
  }

  // The tip stands where the line ends.
  void put_head(const Vec2& tip, const Vec2& towards, Pen pen, int depth) {
    const double length = towards.norm();
    if (!(length > 0.0)) return;
    constexpr double kLeastMm = 2.4;
    constexpr double kStrokeWidths = 4.5;
    constexpr double kSlender = 0.3;
    const double size = std::max(kLeastMm, kStrokeWidths * stroke_of(pen).width_mm);
    const Vec2 ahead = towards / length;
    const Vec2 beside = kSlender * size * Vec2(-ahead.y(), ahead.x());
    const Vec2 foot = tip - size * ahead;
    line(depth, fmt::format("<path d=\"{}Z\"/>", through({tip, foot + beside, foot - beside})));
  }

  const Scene& scene_;
  std::string prefix_;
  double top_;
  std::string out_;
  std::set<Pen> pens_;
  std::set<Fill> hatches_;
  bool labels_ = false;
};

}  // namespace

std::string svg_of(const scene::Scene& scene, const std::string& prefix) {
  return Writer(scene, prefix).write();
}

}  // namespace twoturn
