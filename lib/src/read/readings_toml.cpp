#include <fmt/format.h>
#include <toml++/toml.h>

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <functional>

#include "readings_parts.hpp"
#include "toml_tree.hpp"

namespace twoturn::readings {
namespace {

class Tree {
 public:
  explicit Tree(const toml_text::Lines& lines) : lines_(lines) {}

  Draft read(const toml::table& top) {
    FaceReadings& face = draft_.face;
    read_keys(
        top, "",
        {{"title", [&](const Node& node) { face.title = text(node); }},
         {"points", [&](const Node& node) { read_points(node); }, true},
         {"point", [&](const Node& node) { read_each(node, &Tree::read_point); }},
         {"line", [&](const Node& node) { read_each(node, &Tree::read_line); }},
         {"datum", [&](const Node& node) { read_datum(node); }, true},
         {"height", [&](const Node& node) { face.height_mm = length(node); }, true},
         {"least_height", [&](const Node& node) { face.least_height_mm = length(node); }, true},
         {"local_side", [&](const Node& node) { face.local_side_mm = above_zero(node); }, true},
         {"limits", [&](const Node& node) { read_limits(node); }}});
    return std::move(draft_);
  }

 private:
  // A value with its path and, for lengths, the mm of its unit.
  struct Node {
    const toml::node& node;
    std::string path;
    double mm = 1.0;
  };
  struct Key {
    std::string name;  // without its unit
    std::function<void(const Node&)> read;
    bool is_length = false;
  };

  void blame(const toml::source_region& region, std::string key, std::string value,
             std::string rule, std::string nearest = "") {
    Problem problem;
    problem.key = std::move(key);
    problem.value = std::move(value);
    problem.rule = std::move(rule);
    problem.nearest = std::move(nearest);
    problem.line = static_cast<int>(region.begin.line);
    problem.column = static_cast<int>(region.begin.column);
    draft_.problems.push_back(std::move(problem));
  }

  void blame(const Node& node, std::string rule) {
    std::string value;
    if (!node.node.is_table() && !node.node.is_array()) {
      const toml::source_region& region = node.node.source();
      value =
          lines_.between(static_cast<int>(region.begin.line), static_cast<int>(region.begin.column),
                         static_cast<int>(region.end.line), static_cast<int>(region.end.column));
    }
    blame(node.node.source(), node.path, std::move(value), std::move(rule));
  }

  void read_keys(const toml::table& table, const std::string& path, const std::vector<Key>& keys) {
    // In the file's order; the tree has them by name.
    std::vector<std::pair<const toml::key*, const toml::node*>> entries;
    for (const auto& [key, node] : table) entries.emplace_back(&key, &node);
    std::sort(entries.begin(), entries.end(), [](const auto& a, const auto& b) {
      const toml::source_position& p = a.first->source().begin;
      const toml::source_position& q = b.first->source().begin;
      return std::pair(p.line, p.column) < std::pair(q.line, q.column);
    });
    std::vector<std::string> seen;
    for (const auto& [entry_key, entry_node] : entries) {
      const toml::key& key = *entry_key;
      const toml::node& node = *entry_node;
      const std::string name(key.str());
      const std::string where = path.empty() ? name : path + "." + name;
      const LengthKey length = length_key(name);
      const auto known = std::find_if(keys.begin(), keys.end(), [&](const Key& one) {
        return one.is_length ? length.mm > 0.0 && one.name == length.stem : one.name == name;
      });
      if (known == keys.end()) {
        std::vector<std::string> names;
        for (const Key& one : keys) names.push_back(one.is_length ? one.name + "_mm" : one.name);
        blame(key.source(), where, "", "no such key", nearest_word(name, names));
        continue;
      }
      if (std::find(seen.begin(), seen.end(), known->name) != seen.end()) {
        blame(key.source(), where, "", "the same stands twice, in another unit; keep one");
        continue;
      }
      seen.push_back(known->name);
      known->read({node, where, known->is_length ? length.mm : 1.0});
    }
  }

  std::string text(const Node& node) {
    const auto* said = node.node.as_string();
    if (said == nullptr) blame(node, "must be text in quotes");
    return said == nullptr ? std::string() : said->get();
  }

  std::optional<double> length(const Node& node) {
    const std::optional<double> value = node.node.value<double>();
    if (!node.node.is_number() || !value) {
      blame(node, "must be a number");
      return std::nullopt;
    }
    if (!std::isfinite(*value)) {
      blame(node, "must be a finite number");
      return std::nullopt;
    }
    return *value * node.mm;
  }

  std::optional<double> above_zero(const Node& node) {
    const std::optional<double> value = length(node);
    if (value && *value > 0.0) return value;
    if (value) blame(node, "must be above nought");
    return std::nullopt;
  }

  std::optional<Vec3> point(const Node& node) {
    const toml::array* list = node.node.as_array();
    if (list == nullptr || list->size() != 3) {
      blame(node, list != nullptr && list->size() > 3
                      ? "must be three numbers, [x, y, height]; was a decimal comma used?"
                      : "must be three numbers in brackets, [x, y, height]");
      return std::nullopt;
    }
    Vec3 read = Vec3::Zero();
    for (std::size_t i = 0; i < 3; ++i) {
      const std::optional<double> value = length({*list->get(i), node.path, node.mm});
      if (!value) return std::nullopt;
      read(static_cast<Eigen::Index>(i)) = *value;
    }
    return read;
  }

  std::vector<Vec3> points(const Node& node, std::vector<int>* point_lines) {
    const toml::array* list = node.node.as_array();
    if (list == nullptr) {
      blame(node, "must be a list of points, [[x, y, height], [x, y, height], ...]");
      return {};
    }
    std::vector<Vec3> read;
    for (const toml::node& element : *list) {
      constexpr std::size_t kEnough = 200;
      if (draft_.problems.size() > kEnough) return {};
      const std::optional<Vec3> one = point({element, node.path, node.mm});
      if (!one) continue;
      read.push_back(*one);
      if (point_lines) point_lines->push_back(static_cast<int>(element.source().begin.line));
    }
    return read;
  }

  void read_points(const Node& node) {
    for (const Vec3& one : points(node, &draft_.point_lines)) draft_.face.points.push_back(one);
  }

  void read_datum(const Node& node) {
    const std::size_t before = draft_.problems.size();
    const std::vector<Vec3> read = points(node, nullptr);
    if (draft_.problems.size() > before) return;
    constexpr double kOnALine = 1e-9;
    const bool plane =
        read.size() == 3 && (read[1] - read[0]).cross(read[2] - read[0]).norm() >
                                kOnALine * (read[1] - read[0]).norm() * (read[2] - read[0]).norm();
    if (plane) {
      draft_.face.datum = {read[0], read[1], read[2]};
    } else {
      blame(node, "must be three points that are not on a line, [[x, y, height], ...]");
    }
  }

  void read_each(const Node& node, void (Tree::*read_one)(const toml::table&, const std::string&)) {
    const toml::array* list = node.node.as_array();
    if (list == nullptr || !list->is_homogeneous<toml::table>()) {
      blame(node, fmt::format("write [[{}]] with two pairs of brackets, once for each", node.path));
      return;
    }
    int number = 0;
    for (const toml::node& element : *list) {
      (this->*read_one)(*element.as_table(), fmt::format("{}.{}", node.path, ++number));
    }
  }

  void read_point(const toml::table& table, const std::string& path) {
    std::array<std::optional<double>, 3> parts;
    std::array<bool, 3> metric{};
    const auto part = [&](std::size_t i) {
      return [&, i](const Node& node) {
        parts[i] = length(node);
        metric[i] = node.mm == 1.0;
      };
    };
    const std::size_t before = draft_.problems.size();
    read_keys(table, path, {{"x", part(0), true}, {"y", part(1), true}, {"height", part(2), true}});
    if (draft_.problems.size() > before) return;
    if (!parts[0] || !parts[1] || !parts[2]) {
      blame(table.source(), path, "", "needs x_mm, y_mm and height_mm");
    } else if (metric[0] != metric[1] || metric[0] != metric[2]) {
      blame(table.source(), path, "", "mixed units: all three in mm, or all in inches and thou");
    } else {
      draft_.face.points.emplace_back(*parts[0], *parts[1], *parts[2]);
      draft_.point_lines.push_back(static_cast<int>(table.source().begin.line));
    }
  }

  void read_line(const toml::table& table, const std::string& path) {
    FeelerLine line;
    bool given = false;
    const std::size_t before = draft_.problems.size();
    const auto gap = [&](const Node& node) {
      const auto* said = node.node.as_string();
      const std::optional<double> number =
          node.node.is_number() ? node.node.value<double>() : std::nullopt;
      const GapReading read = read_gap(said     ? said->get()
                                       : number ? fmt::format("{}", *number)
                                                : "",
                                       node.mm);
      if (!read.fault.empty()) blame(node, read.fault);
      line.goes_mm = read.gap.goes_mm;
      line.stops_mm = read.gap.stops_mm;
      given = true;
    };
    const auto rocks = [&](const Node& node) {
      const auto* flag = node.node.as_boolean();
      if (flag == nullptr) blame(node, "must be true or false");
      line.rocks = flag != nullptr && flag->get();
    };
    read_keys(table, path,
              {{"name", [&](const Node& node) { line.name = text(node); }},
               {"gap", gap, true},
               {"rocks", rocks}});
    if (draft_.problems.size() > before) return;
    if (!given || line.name.empty()) {
      blame(
          table.source(), path, "",
          "needs a name (\"along\", \"across\", \"diagonal 1\", ...) and gap_mm = \"0.04..0.05\"");
      return;
    }
    line.way = edge_way(line.name);
    draft_.face.lines.push_back(std::move(line));
  }

  void read_limits(const Node& node) {
    const toml::table* table = node.node.as_table();
    if (table == nullptr) {
      blame(node, "must be a table: [limits] with its keys below it");
      return;
    }
    FaceLimits& limits = draft_.face.limits;
    read_keys(*table, node.path,
              {{"strict", [&](const Node& one) { limits.strict_mm = above_zero(one); }, true},
               {"loose", [&](const Node& one) { limits.loose_mm = above_zero(one); }, true},
               {"gap", [&](const Node& one) { limits.gap_mm = above_zero(one); }, true},
               {"local", [&](const Node& one) { limits.local_mm = above_zero(one); }, true}});
  }

  const toml_text::Lines& lines_;
  Draft draft_;
};

}  // namespace

Draft read_toml(const std::string& text, const toml_text::Lines& lines) {
  try {
    const toml::table top = toml::parse(text);
    return Tree(lines).read(top);
  } catch (const toml::parse_error& error) {
    Draft draft;
    draft.problems = toml_text::slips(text);
    if (draft.problems.empty()) draft.problems.push_back(reading::syntax_problem(error, lines));
    return draft;
  }
}

}  // namespace twoturn::readings
