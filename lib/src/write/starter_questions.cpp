#include <fmt/format.h>
#include <algorithm>

#include "starter_parts.hpp"
#include "twoturn/base/numbers.hpp"
#include "twoturn/drive/choice_words.hpp"

namespace twoturn::starter {
namespace {

std::string printed(double value) { return shortest(value, 3); }

std::string in_quotes(std::string_view text) { return fmt::format("\"{}\"", text); }

// What stands in the file without being asked.
Line fact(std::string key, std::string value) { return {std::move(key), std::move(value)}; }

Line number(const std::string& path, double value, std::string blank, std::string question) {
  Line line{path.substr(path.rfind('.') + 1), printed(value), std::move(question)};
  line.blanks = {std::move(blank)};
  line.example_path = path;
  return line;
}

Line place(const std::string& path, const Vec2& at_mm, std::string question) {
  Line line{path.substr(path.rfind('.') + 1),
            fmt::format("[{}, {}]", printed(at_mm.x()), printed(at_mm.y())), std::move(question)};
  line.blanks = {"mm to the right", "mm up"};
  line.example_path = path;
  return line;
}

template <class Choice>
Line choice(std::string key, Choice chosen, std::string question) {
  Line line{std::move(key), in_quotes(word(chosen)), std::move(question)};
  line.choices = words_of<Choice>();
  return line;
}

Table about_engine() {
  Table table;
  Line title = fact("title", in_quotes("My engine"));
  title.question = "What engine it is; printed on every sheet.";
  title.blanks = {""};
  table.lines.push_back(title);
  table.lines.push_back(choice("crank_turns", Turn::clockwise,
                               "Which way the crank turns when the engine runs, looking at the "
                               "belt end. The arrow on the old belt or on a cover tells."));
  return table;
}

// Only a smooth roller asks what lies between its face and the belt's pitch line.
void ask_thickness(const BeltSpec& belt, std::vector<Line>& lines) {
  lines.push_back(number("belt.thickness_mm", *belt.thickness_mm, "mm",
                         "Calliper over the belt at a tooth, not squeezed: back to the tip of the "
                         "tooth."));
  lines.push_back(number("belt.tooth_height_mm", *belt.tooth_height_mm, "mm",
                         "Depth rod of the calliper: from the tip of a tooth to the land between "
                         "two. Or the thickness less what the land measures."));
  lines.push_back(number(
      "belt.land_to_pitch_line_mm", *belt.land_to_pitch_line_mm, "mm",
      "From the land to the middle of the cords inside. A calliper cannot reach it: 0.686 holds "
      "for most belts with a pitch of 8 or 9.525 mm; \"twoturn sections\" lists others."));
}

Line section_if_known(bool has_smooth_roller) {
  Line line = fact("section", in_quotes("ZA"));
  line.commented_out = true;
  line.question = fmt::format(
      "If you know the belt's section (printed on its back; \"twoturn sections\" lists them), name "
      "it here, which is more exact, and take out over_10_teeth_mm{}.",
      has_smooth_roller ? ", thickness_mm, tooth_height_mm and land_to_pitch_line_mm" : "");
  line.blanks = {""};
  return line;
}

Table about_belt(const DriveSpec& example) {
  Table table{"[belt]", "The belt.", {}};
  const BeltSpec& belt = example.belt;
  table.lines.push_back(number("belt.teeth", *belt.teeth, "teeth",
                               "Paint one tooth, count once round, and once more the other way. "
                               "The number may also be printed on the back."));
  table.lines.push_back(number(
      "belt.over_10_teeth_mm", *belt.over_10_teeth_mm, "mm",
      "Belt straight on the bench, calliper from the flank of tooth 1 to the same flank of tooth "
      "11. Nearly all are 80 or 95.25: within 0.4 of one of these write that one."));
  if (belt.length_tolerance_mm) {
    table.lines.push_back(number("belt.length_tolerance_mm", *belt.length_tolerance_mm,
                                 "mm plus or minus",
                                 "How much the belt's length may vary, by its maker: there is no "
                                 "tensioner to take it up, and the usual table ends at 1778 mm."));
  }
  const bool has_smooth_roller =
      std::any_of(example.pulleys.begin(), example.pulleys.end(),
                  [](const PulleySpec& pulley) { return pulley.diameter_mm.has_value(); });
  if (has_smooth_roller) ask_thickness(belt, table.lines);
  table.lines.push_back(section_if_known(has_smooth_roller));
  return table;
}

Table about_head(const HeadSpec& head) {
  Table table{"[[head]]", fmt::format("The {}.", head.name), {}};
  table.lines.push_back(fact("name", in_quotes(head.name)));
  table.lines.push_back(
      number(fmt::format("head.{}.deck_deg", head.name), *head.deck_deg, "deg on the clock",
             "The way it lifts off the block: stand a square on the gasket face and read its "
             "direction as on a clock face, 0 for straight up, 30 for 1 o'clock."));
  table.lines.push_back(number(
      fmt::format("head.{}.deck_from_crank_mm", head.name), *head.deck_from_crank_mm, "mm",
      "From the middle of the crank's pulley square to the gasket face, steel rule: it tells "
      "what the head carries and what stays with the block."));
  return table;
}

void ask_mark_and_pin(const std::string& path, const std::string& name,
                      const std::optional<double>& mark_deg, const std::optional<PinSpec>& pin,
                      std::vector<Line>& lines) {
  lines.push_back(number(path + ".mark_deg", *mark_deg, "deg on the clock",
                         fmt::format("All pins in: where the timing mark of the {} points, seen "
                                     "from the middle of its shaft. A degree disc or a protractor; "
                                     "or a clock time in quotes.",
                                     name)));
  lines.push_back(number(path + ".pin.radius_mm", *pin->radius_mm, "mm",
                         "Steel rule from the middle of the shaft to the middle of the pin's "
                         "hole."));
  lines.push_back(number(path + ".pin.play_mm", *pin->play_mm, "mm each side",
                         "Pin in, rock the shaft by hand, measure the whole movement at the pin's "
                         "radius and halve it."));
  lines[lines.size() - 2].key = "pin.radius_mm";
  lines.back().key = "pin.play_mm";
}

void ask_teeth_or_size(const PulleySpec& pulley, const std::string& path,
                       std::vector<Line>& lines) {
  if (pulley.teeth) {
    lines.push_back(
        number(path + ".teeth", *pulley.teeth, "teeth", "Chalk one tooth and count them all."));
  } else {
    lines.push_back(number(path + ".diameter_mm", *pulley.diameter_mm, "mm",
                           "Calliper right across the face the belt runs on; not the radius, not "
                           "over the rims."));
    lines.push_back(
        choice("face", *pulley.face, "Which face of the belt runs on it: its back, or its teeth."));
  }
}

void ask_swing(const std::string& path, const TensionerSpec& tensioner, const SwingSpec& swing,
               std::vector<Line>& lines) {
  if (swing.pivot_mm) {
    lines.push_back(place(path + ".pivot_mm", *swing.pivot_mm,
                          "The bolt it turns about, from the crank's centre: rule and square, to "
                          "the right (left is minus) and up."));
  }
  lines.push_back(number(path + ".thickest_mm", *swing.thickest_mm, "mm",
                         "The eccentric's wall between the bolt's hole and the roller's outside, "
                         "calliper, where it is thickest. An arm with a bolt at one end: take this "
                         "line and the next out and write arm_mm, bolt centre to roller centre."));
  lines.push_back(number(path + ".thinnest_mm", *swing.thinnest_mm, "mm",
                         "The same wall where it is thinnest, opposite."));
  lines.push_back(number(path + ".slack_deg", *swing.slack_deg, "deg on the clock",
                         "Backed right off: where the roller's centre stands from the bolt's, as "
                         "on a clock face (it lies on the side of the thickest wall)."));
  lines.push_back(number(path + ".tight_deg", *swing.tight_deg, "deg on the clock",
                         "The same at its tight end."));
  lines.push_back(choice("tightens", *swing.tightens, "Which way it turns from slack to tight."));
  lines.push_back(number(path + ".set_deg", *tensioner.set_deg, "deg on the clock",
                         "The same where the maker's marks or pointer want it."));
  lines.push_back(number(path + ".pointer_deg", *tensioner.pointer_deg, "deg on the clock",
                         "There: where the pointer, or the slot you can see, stands."));
}

void ask_slide(const std::string& path, const TensionerSpec& tensioner, const SlideSpec& slide,
               std::vector<Line>& lines) {
  lines.push_back(place(path + ".slack_at_mm", *slide.slack_at_mm,
                        "Roller pushed to the slack end of its slot: its centre from the crank's, "
                        "rule and square."));
  lines.push_back(place(path + ".tight_at_mm", *slide.tight_at_mm, "The same at the tight end."));
  lines.push_back(number(path + ".set_mm", *tensioner.set_mm, "mm from the slack end",
                         "How far from the slack end the maker's marks want it: rule along the "
                         "slot."));
}

Table about_tensioner(const std::string& path, const TensionerSpec& tensioner) {
  Table table{"[pulley.tensioner]", "How it moves.", {}};
  const std::string below = path + ".tensioner";
  if (const auto* swing = std::get_if<SwingSpec>(&tensioner.path)) {
    ask_swing(below, tensioner, *swing, table.lines);
  } else {
    ask_slide(below, tensioner, std::get<SlideSpec>(tensioner.path), table.lines);
  }
  return table;
}

Table about_pulley(const PulleySpec& pulley) {
  Table table{"[[pulley]]", fmt::format("The {}.", pulley.name), {}};
  const std::string path = fmt::format("pulley.{}", pulley.name);
  std::vector<Line>& lines = table.lines;
  lines.push_back(fact("name", in_quotes(pulley.name)));
  lines.push_back(fact("role", in_quotes(word(*pulley.role))));
  ask_teeth_or_size(pulley, path, lines);
  if (pulley.role == Role::crankshaft) {
    lines.push_back(fact("at_mm", "[0, 0]"));
  } else if (pulley.at_mm) {
    lines.push_back(place(path + ".at_mm", *pulley.at_mm,
                          "Its centre from the crank's, to the right (left is minus) and up: rule "
                          "and square, or calliper across both shafts less half of each."));
  }
  if (pulley.near_mm) {
    lines.push_back(place(path + ".near_mm", *pulley.near_mm,
                          fmt::format("About where its {} stands from the crank's centre, to the "
                                      "right (left is minus) and up, by eye: it only tells on "
                                      "which side.",
                                      pulley.tensioner ? "bolt" : "centre")));
  }
  if (pulley.mount) lines.push_back(fact("mount", in_quotes(*pulley.mount)));
  if (pulley.fixing) {
    lines.push_back(choice("fixing", *pulley.fixing,
                           "How it sits on its shaft: a key or dowel, slots to adjust it, or loose "
                           "until its bolt is tightened."));
  }
  if (pulley.pin) ask_mark_and_pin(path, pulley.name, pulley.mark_deg, pulley.pin, lines);
  return table;
}

// A row of its own for each distance; what it is between is known.
Table about_measured(const MeasuredSpec& measured, int number_, const DriveSpec& example) {
  Table table{"[[measured]]", fmt::format("From {} to {}.", measured.from, measured.to), {}};
  const std::string path = fmt::format("measured.{}", number_);
  const auto pivot = [&](const std::string& name) {
    return std::any_of(
        example.pulleys.begin(), example.pulleys.end(),
        [&](const PulleySpec& pulley) { return pulley.name == name && pulley.tensioner; });
  };
  table.lines.push_back(fact("from", in_quotes(measured.from)));
  table.lines.push_back(fact("to", in_quotes(measured.to)));
  table.lines.push_back(number(
      path + ".distance_mm", *measured.distance_mm, "mm",
      fmt::format("Centre to centre{}: calliper over the far sides of both shafts less half of "
                  "each, or a steel rule.",
                  pivot(measured.to) ? " of the bolt that the tensioner turns about" : "")));
  if (measured.bearing_deg) {
    table.lines.push_back(number(path + ".bearing_deg", *measured.bearing_deg, "deg on the clock",
                                 "Which way it lies from there as on a clock face, by eye: one "
                                 "direction does for the whole engine."));
  }
  return table;
}

Table about_geared(const GearedSpec& geared) {
  Table table{
      "[[geared]]", fmt::format("The {}, off the {} by gears.", geared.name, geared.from), {}};
  const std::string path = fmt::format("geared.{}", geared.name);
  table.lines.push_back(fact("name", in_quotes(geared.name)));
  table.lines.push_back(fact("from", in_quotes(geared.from)));
  table.lines.push_back(fact("role", in_quotes(word(*geared.role))));
  table.lines.push_back(number(path + ".ratio", *geared.ratio, "turns",
                               "Its turns for one of the crank: teeth of the crank's gear over "
                               "teeth of its own; minus if it turns the other way."));
  ask_mark_and_pin(path, geared.name, geared.mark_deg, geared.pin, table.lines);
  return table;
}

Table about_build(const DriveSpec& example) {
  Table table{"[build]", "What is not as the book has it.", {}};
  for (const auto& [head, skim_mm] : example.build.skim_mm) {
    Line line = number(fmt::format("build.skim_mm.{}", head), skim_mm, "mm",
                       fmt::format("Metal taken off the face of the {}: the machine shop's note, "
                                   "or the height before less the height after. 0 if none.",
                                   head));
    line.key =
        fmt::format("skim_mm.{}", head.find(' ') == std::string::npos ? head : in_quotes(head));
    table.lines.push_back(line);
  }
  return table;
}

// In the file commented out: a number that is no drive's needs no example.
Line for_who_knows(Line line, std::string question) {
  line.commented_out = true;
  line.question = std::move(question);
  return line;
}

Table about_bolts(const HeadSpec& head) {
  Table table{"[[bolts]]", fmt::format("The bolts of the {}, for the job card.", head.name), {}};
  std::vector<Line>& lines = table.lines;
  lines.push_back(fact("name", in_quotes(head.name + " bolts")));
  lines.push_back(fact("holds", in_quotes(head.name)));
  lines.push_back(for_who_knows(fact("count", "10"), "How many there are."));
  lines.back().blanks = {"bolts"};
  lines.push_back(
      for_who_knows(fact("stage", "[{ torque_nm = 40 }, { angle_deg = 90 }, { angle_deg = 90 }]"),
                    "How they are tightened, by the engine maker's manual: a torque (torque_nm or "
                    "torque_lbf_ft), then angles, in order."));
  lines.back().blanks = {"Nm", "deg", "deg"};
  lines.push_back(for_who_knows(choice("threads", ThreadState::oiled, ""),
                                "Whether the manual's torque is for dry or for oiled threads."));
  lines.push_back(for_who_knows(choice("condition", BoltCondition::as_new, ""),
                                "Whether they are new; what is tightened by angle should be."));
  return table;
}

Table about_valves() {
  Table table{"[engine]", "The valves.", {}};
  Line line = fact("interference", "true");
  line.commented_out = true;
  line.question =
      "Whether valves and pistons can meet when the timing is wrong, by the engine maker's manual. "
      "Until it is known, treat it as if they do.";
  line.choices = {"true", "false"};
  table.lines.push_back(line);
  return table;
}

}  // namespace

std::string key_without_names(const Table& table, const Line& line) {
  if (table.head.empty()) return line.key;
  const std::size_t first = table.head.find_first_not_of('[');
  const std::string name = table.head.substr(first, table.head.find(']') - first);
  const bool by_head = name == "build";
  return name + '.' + (by_head ? line.key.substr(0, line.key.find('.')) : line.key);
}

std::vector<Table> questions(const StarterDrive& drive, const DriveSpec& example) {
  std::vector<Table> tables{about_engine(), about_belt(example)};
  for (const HeadSpec& head : example.heads) tables.push_back(about_head(head));
  for (const PulleySpec& pulley : example.pulleys) {
    tables.push_back(about_pulley(pulley));
    if (!pulley.tensioner) continue;
    tables.push_back(about_tensioner(fmt::format("pulley.{}", pulley.name), *pulley.tensioner));
  }
  int row = 0;
  for (const MeasuredSpec& measured : example.measured) {
    tables.push_back(about_measured(measured, ++row, example));
  }
  if (drive.balance_shaft) tables.push_back(about_geared(example.geared.front()));
  tables.push_back(about_build(example));
  tables.push_back(about_valves());
  for (const HeadSpec& head : example.heads) tables.push_back(about_bolts(head));
  return tables;
}

}  // namespace twoturn::starter
