#include <fmt/format.h>

#include "profile_parts.hpp"

namespace twoturn::reading {
namespace {

MarkSpec read_mark(Section mark) {
  MarkSpec spec;
  spec.name = mark.text("name").value_or("");
  spec.at_deg = mark.clock("at_deg");
  spec.radius_mm = mark.length("radius");
  mark.finish();
  return spec;
}

// The first key of a list that the table holds, as an entry; lengths in any unit.
std::optional<Entry> first_of(Section& table, std::initializer_list<std::string_view> stems,
                              std::initializer_list<std::string_view> keys) {
  for (const std::string_view stem : stems) {
    if (auto found = table.find_length(stem)) return found;
  }
  for (const std::string_view key : keys) {
    if (auto found = table.find(key)) return found;
  }
  return std::nullopt;
}

std::variant<SwingSpec, SlideSpec> read_path(Section& table) {
  SwingSpec swing;
  swing.pivot_mm = table.position("pivot");
  swing.arm_mm = table.length("arm");
  swing.thickest_mm = table.length("thickest");
  swing.thinnest_mm = table.length("thinnest");
  swing.slack_deg = table.clock("slack_deg");
  swing.tight_deg = table.clock("tight_deg");
  swing.tightens = table.choice<Turn>("tightens");
  SlideSpec slide;
  slide.slack_at_mm = table.position("slack_at");
  slide.tight_at_mm = table.position("tight_at");

  const auto as_slide = first_of(table, {"slack_at", "tight_at"}, {});
  const auto as_swing = first_of(table, {"pivot", "arm", "thickest", "thinnest"},
                                 {"slack_deg", "tight_deg", "tightens"});
  if (as_slide && as_swing) {
    table.reading().blame(*as_slide,
                          fmt::format("a slide's key, but {} makes this tensioner a swing; keep "
                                      "the keys of one of the two",
                                      as_swing->path));
  }
  if (as_slide && !as_swing) return slide;
  return swing;
}

std::optional<TensionerSpec> read_tensioner(Section& pulley) {
  std::optional<Section> table = pulley.table("tensioner");
  if (!table) return std::nullopt;
  TensionerSpec spec;
  spec.path = read_path(*table);
  spec.set_deg = table->clock("set_deg");
  spec.set_mm = table->length("set");
  spec.set_give_deg = table->number("set_give_deg");
  spec.set_give_mm = table->length("set_give");
  spec.pointer_deg = table->clock("pointer_deg");
  spec.holds = table->choice<Holds>("holds");
  spec.spring_nm_per_deg = table->number("spring_nm_per_deg");
  spec.spring_n_per_mm = table->number("spring_n_per_mm");
  table->finish();
  return spec;
}

}  // namespace

PulleySpec read_pulley(Section pulley) {
  PulleySpec spec;
  spec.name = pulley.text("name").value_or("");
  spec.role = pulley.choice<Role>("role");
  spec.teeth = pulley.count("teeth");
  spec.diameter_mm = pulley.length("diameter");
  spec.face = pulley.choice<Face>("face");
  spec.at_mm = pulley.position("at");
  spec.near_mm = pulley.position("near");
  spec.flange_mm = pulley.length("flange");
  spec.mount = pulley.text("mount");
  spec.fixing = pulley.choice<Fixing>("fixing");
  spec.range_deg = pulley.number("range_deg");
  spec.key_radius_mm = pulley.length("key_radius");
  spec.turns_per_crank = pulley.number("turns_per_crank");
  spec.mark_deg = pulley.clock("mark_deg");
  spec.mark_radius_mm = pulley.length("mark_radius");
  spec.mark_on = pulley.choice<MarkOn>("mark_on");
  for (const Section& mark : pulley.tables("mark")) spec.marks.push_back(read_mark(mark));
  spec.pin = read_pin(pulley);
  spec.tensioner = read_tensioner(pulley);
  spec.drag_nm = pulley.number("drag_nm");
  pulley.finish();
  return spec;
}

}  // namespace twoturn::reading
