#include <fmt/format.h>

#include "twoturn/base/numbers.hpp"
#include "twoturn/study/no_answer.hpp"
#include "words/sentences.hpp"

namespace twoturn {
namespace {

NoAnswer no_setting(const NoAssembly& none, const Drive& drive) {
  NoAnswer answer{"no-setting", none.about, "", {}, {}};
  const int teeth = drive.belt.teeth.value_or(0);
  answer.numbers = {{"belt_teeth", teeth}, {"belt_length_mm", none.value}};
  answer.text = fmt::format(
      "A belt of {} is {} mm long, and nowhere in its travel does {} give it that length",
      counted(teeth, "tooth", "teeth"), fixed(none.value, 2), the(none.about));
  if (none.least_mm && none.greatest_mm) {
    answer.numbers.emplace_back("least_mm", *none.least_mm);
    answer.numbers.emplace_back("greatest_mm", *none.greatest_mm);
    answer.text += fmt::format(": it takes {} to {} mm", fixed(*none.least_mm, 2),
                               fixed(*none.greatest_mm, 2));
  }
  answer.text +=
      ". Count the belt's teeth again; \"twoturn teeth\" lists the counts that go on, \"twoturn "
      "tensioner\" the travel.";
  return answer;
}

}  // namespace

NoAnswer not_enough_given(const std::string& question) {
  return {"missing", "profile", fmt::format("Not enough is given to tell {}.", question), {}, {}};
}

NoAnswer nothing_to_spread(const std::string& why_not) {
  return {"nothing-to-spread",
          "profile",
          fmt::format("There is nothing to spread: {}. Under [origin] a profile says what was "
                      "measured, and how far off it may be.",
                      why_not),
          {},
          {}};
}

NoAnswer no_tensioner() {
  return {
      "no-tensioner",
      "tensioner",
      "This drive has no tensioner: its centres are fixed. \"twoturn teeth\" says how well each "
      "tooth count fits them.",
      {},
      {}};
}

NoAnswer path_refused(const RouteAnswer& route) {
  NoAnswer answer{"refused", "path", "No belt can run so; the reasons are below.", {}, {}};
  answer.refused = route.refused;
  if (route.length_mm > 0.0) {
    answer.numbers = {{"tangent_path_mm", route.length_mm}};
    answer.text = fmt::format(
        "No belt can run so; the reasons are below. The tangent path round the pulleys is {} mm "
        "long (not a belt).",
        fixed(route.length_mm, 2));
  }
  return answer;
}

NoAnswer no_assembly(const NoAssembly& none, const Drive& drive) {
  switch (none.reason) {
    case NoAssembly::Reason::no_setting:
      return no_setting(none, drive);
    case NoAssembly::Reason::no_path:
      return {"no-path",
              none.about,
              fmt::format("No straight run of belt fits between {}: their centres are {} mm apart "
                          "and would have to be more than {} mm. Check their places, sizes and "
                          "faces.",
                          none.about, fixed(none.value, 2), fixed(none.limit, 2)),
              {{"distance_mm", none.value}, {"needed_mm", none.limit}},
              {}};
    case NoAssembly::Reason::not_in_mesh:
      return {"not-in-mesh",
              none.about,
              fmt::format("Only {} teeth of {} are in mesh; at least {} must be for the belt to "
                          "turn it in time. Check its place and the order of the pulleys.",
                          fixed(none.value, 2), the(none.about), fixed(none.limit, 0)),
              {{"mesh_exact_teeth", none.value}, {"least_teeth", none.limit}},
              {}};
    case NoAssembly::Reason::belt_teeth_unknown:
      break;
  }
  return not_enough_given("how the marks stand after two turns: the belt's tooth count is missing");
}

}  // namespace twoturn
