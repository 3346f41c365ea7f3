#include "twoturn/timing/assembly.hpp"

#include <cmath>

#include "base/at.hpp"
#include "twoturn/base/assert.hpp"
#include "twoturn/drive/known.hpp"
#include "twoturn/drive/tensioner_curve.hpp"
#include "twoturn/drive/uncertainty.hpp"
#include "way_change.hpp"

namespace twoturn {
namespace {

NoAssembly no_path(const Drive& drive, const NoTangent& none) {
  return {NoAssembly::Reason::no_path,
          drive.pulleys[at(none.from)].name + " and " + drive.pulleys[at(none.to)].name,
          none.distance_mm,
          none.needed_mm,
          {},
          {}};
}

NoAssembly no_setting(const TensionerCurve& curve, const std::string& tensioner, double length_mm) {
  NoAssembly none{NoAssembly::Reason::no_setting, tensioner, length_mm, 0.0, {}, {}};
  if (curve.usable().empty()) return none;
  none.least_mm = curve.least_mm();
  none.greatest_mm = curve.greatest_mm();
  return none;
}

// The path at which the belt has its own length: with a tensioner at the setting meant, else as
// drawn. `near` is where the tensioner stood by the book, which the re-set one stays nearest to.
struct Placed {
  PlacedPath path;
  std::optional<Setting> setting;
  std::optional<NoAssembly> none;
};

Placed place(const Fitted& fitted, int belt_teeth, std::optional<double> near) {
  const Drive& drive = fitted.drive();
  Placed placed;
  double q = 0.0;
  if (const TensionerCurve* curve = fitted.curve()) {
    const double length_mm = drive.belt.length_mm(belt_teeth);
    const std::vector<Setting> settings = curve->settings_for(length_mm);
    Tensioner aim = *drive.tensioner;
    if (near) aim.set_q = near;
    const Setting* meant = meant_setting(settings, aim);
    if (!meant) {
      placed.none = no_setting(*curve, drive.pulleys[at(aim.pulley)].name, length_mm);
      return placed;
    }
    placed.setting = *meant;
    q = meant->q;
  }
  placed.path.wheels = placed_wheels(drive, q);
  const PathResult result = solve_path(placed.path.wheels, placed.path.path);
  if (!result.solved()) placed.none = no_path(drive, result.none);
  return placed;
}

std::optional<NoAssembly> pulley_out_of_mesh(const Drive& drive, const PlacedPath& placed) {
  for (std::size_t i = 0; i < drive.pulleys.size(); ++i) {
    const Pulley& pulley = drive.pulleys[i];
    if (!pulley.toothed()) continue;
    const double mesh = placed.path.wraps[i].radians() / kFullTurn * pulley.teeth;
    constexpr double kLeastToCarryTiming = 1.0;
    if (mesh < kLeastToCarryTiming) {
      return NoAssembly{
          NoAssembly::Reason::not_in_mesh, pulley.name, mesh, kLeastToCarryTiming, {}, {}};
    }
  }
  return std::nullopt;
}

// Fills one assembly's fits, by the book first and then as fitted.
class BeltFitter {
 public:
  BeltFitter(Assembly& assembly, const Fitted& fitted, const Mishap& mishap,
             std::vector<Shaft> book_shafts)
      : assembly_(assembly),
        fitted_(fitted),
        build_(fitted.spec().build),
        mishap_(mishap),
        book_shafts_(std::move(book_shafts)) {}

  void fit_all() {
    assembly_.fits.resize(assembly_.shafts.size());
    place_mark(0);
    assembly_.fits[0].arc_teeth = arc_teeth(0);
    find_crank_phase();
    for (std::size_t i = 1; i < assembly_.shafts.size(); ++i) {
      if (assembly_.shafts[i].pulley >= 0) {
        fit_pulley(i);
      } else {
        fit_geared(i);
      }
    }
  }

 private:
  double pitch() const { return assembly_.fitted.belt.pitch_mm; }

  double arc_teeth(std::size_t i) const {
    const int pulley = assembly_.shafts[i].pulley;
    return assembly_.fitted_path.wheels[at(pulley)].radius_mm *
           assembly_.fitted_path.path.wraps[at(pulley)].radians() / pitch();
  }

  MarkedPulley marked(std::size_t i) const {
    const Shaft& shaft = book_shafts_[i];
    MarkedPulley pulley{shaft.pulley, assembly_.shafts[i].pulley, {}};
    if (!shaft.marks.empty()) pulley.mark = Angle::clock(shaft.marks[0].at_deg);
    return pulley;
  }

  BookAndFitted paths() const { return {assembly_.book_path, assembly_.fitted_path}; }

  void place_mark(std::size_t i) {
    assembly_.fits[i].mark_from_entry_mm = fitted_mark_from_entry_mm(paths(), marked(i));
  }

  double book_mark_mm(std::size_t i) const {
    return book_mark(assembly_.book_path, marked(i)).from_entry_mm;
  }

  double book_way_teeth(std::size_t i, Way way) const {
    return crank_to_mark_mm(assembly_.book_path, book_shafts_[i].pulley, way, book_mark_mm(0),
                            book_mark_mm(i)) /
           pitch();
  }

  static double tied_phase(MarkOn mark_on) { return mark_on == MarkOn::tooth ? 0.5 : 0.0; }

  // A crank whose teeth are not tied to its mark takes the phase that makes the first tied shaft
  // exact: teeth cut "as made" leave no remainder where they can help it.
  void find_crank_phase() {
    ShaftFit& crank = assembly_.fits[0];
    crank.groove_phase = tied_phase(assembly_.shafts[0].mark_on);
    if (assembly_.shafts[0].mark_on != MarkOn::as_made) return;
    for (std::size_t i = 1; i < assembly_.shafts.size(); ++i) {
      const Shaft& shaft = assembly_.shafts[i];
      if (shaft.pulley < 0 || shaft.mark_on == MarkOn::as_made) continue;
      const Way way = reference_way(assembly_.fitted, shaft.pulley);
      const double exact = tied_phase(shaft.mark_on) - book_way_teeth(i, way);
      crank.groove_phase = exact - std::floor(exact);
      return;
    }
  }

  int teeth_out(std::size_t i) const {
    const std::string& name = assembly_.shafts[i].name;
    return by_name(build_.teeth_out, name) + by_name(mishap_.teeth_out, name);
  }

  void fit_pulley(std::size_t i) {
    const Shaft& shaft = assembly_.shafts[i];
    ShaftFit& fit = assembly_.fits[i];
    place_mark(i);
    fit.reference = reference_way(assembly_.fitted, shaft.pulley);
    const double entry = fit.reference == Way::with_travel
                             ? entry_to_entry_mm(assembly_.fitted_path, 0, shaft.pulley)
                             : -entry_to_entry_mm(assembly_.fitted_path, shaft.pulley, 0);
    fit.arc_start_teeth = entry / pitch();
    fit.arc_teeth = arc_teeth(i);

    const double crank_phase = assembly_.fits[0].groove_phase;
    const double book_way = book_way_teeth(i, fit.reference);
    // A belt whose teeth lie further apart reaches as if the way were so much shorter.
    const double stretched = assembly_.fitted.belt.stretch * book_way;
    const double late = by_name(mishap_.late_mm, shaft.name) / pitch();
    fit.arc_start_teeth += late - stretched;
    const bool as_made = shaft.mark_on == MarkOn::as_made;
    const double drawn = book_way + crank_phase;
    fit.groove_phase = as_made ? drawn - std::floor(drawn) : tied_phase(shaft.mark_on);
    const long book_hold = std::lround(drawn - fit.groove_phase);
    fit.drawn_remainder_teeth =
        as_made ? 0.0 : drawn - fit.groove_phase - static_cast<double>(book_hold);

    const double way =
        crank_to_mark_mm(assembly_.fitted_path, shaft.pulley, fit.reference,
                         assembly_.fits[0].mark_from_entry_mm, fit.mark_from_entry_mm) /
            pitch() -
        stretched;
    const double change = way - book_way;
    const bool free = shaft.fixing == Fixing::free_until_tightened;
    const int out = free ? 0 : teeth_out(i) - teeth_out(0);
    constexpr double kRoundingMm = 1e-9;  // a way that did not change
    fit.way_change_mm = std::abs(change * pitch()) < kRoundingMm ? 0.0 : change * pitch();
    fit.way_change_teeth = static_cast<int>(std::lround(change)) + out;
    fit.hold = book_hold + fit.way_change_teeth;
    fit.pulley_shift_deg = (fit.way_change_teeth - change - late) * 360.0 / shaft.teeth;
    fit.turned_on_shaft_deg = free ? fit.pulley_shift_deg : -adjusted(shaft.name);
    fit.turned_on_shaft_deg += by_name(mishap_.seat_deg, shaft.name);
    if (!free) add_effects(shaft, book_way, fit);
  }

  // By the book every shaft stands at its mark wherever the centres are: what is known badly there
  // is the same before and after. A timed tensioner's own way follows its setting; that is left
  // out.
  void add_effects(const Shaft& shaft, double book_way_teeth, ShaftFit& fit) const {
    const double deg_a_mm = 360.0 / shaft.teeth / pitch();
    for (const Unknown& unknown : fitted_.uncertainty().unknowns()) {
      const auto starts = [&](std::string_view start) {
        return unknown.key.compare(0, start.size(), start) == 0;
      };
      if (!starts("build.") && !starts("head.")) continue;
      double gain_mm = -unknown.pitch_mm * book_way_teeth;
      for (const Unknown::Move& move : unknown.moves) {
        gain_mm += way_gain_mm(assembly_.fitted_path, shaft.pulley, fit.reference, move.pulley,
                               move.centre_mm, move.radius_mm);
      }
      if (gain_mm != 0.0) fit.effects.push_back({unknown.key, -gain_mm * deg_a_mm});
    }
    const std::string key = "build.adjusted_deg." + shaft.name;
    const GivenValue* given =
        adjusted(shaft.name) == 0.0 ? nullptr : find_given(fitted_.spec(), key);
    const double sigma = given == nullptr ? 0.0 : sigma_of(give_or_take(*given).value);
    if (sigma > 0.0) fit.effects.push_back({key, sigma});
  }

  template <class Value>
  static Value by_name(const std::map<std::string, Value>& values, const std::string& name) {
    const auto found = values.find(name);
    return found == values.end() ? Value{} : found->second;
  }

  double adjusted(const std::string& name) const { return by_name(build_.adjusted_deg, name); }

  void fit_geared(std::size_t i) {
    const Shaft& shaft = assembly_.shafts[i];
    const ShaftFit& from = assembly_.fits[at(shaft.from)];
    assembly_.fits[i].reference = from.reference;
    assembly_.fits[i].pulley_shift_deg = std::abs(shaft.ratio) * from.shaft_shift_deg();
    assembly_.fits[i].turned_on_shaft_deg = by_name(mishap_.seat_deg, shaft.name);
    for (const PhaseEffect& effect : from.effects) {
      assembly_.fits[i].effects.push_back({effect.key, std::abs(shaft.ratio) * effect.own_deg});
    }
  }

  Assembly& assembly_;
  const Fitted& fitted_;
  const BuildSpec& build_;
  const Mishap& mishap_;
  std::vector<Shaft> book_shafts_;
};

}  // namespace

AssemblyResult assemble(const Fitted& book, const Fitted& fitted) {
  return assemble(book, fitted, {});
}

AssemblyResult assemble(const Fitted& book, const Fitted& fitted, const Mishap& mishap) {
  AssemblyResult result;
  const std::optional<int> belt_teeth = book.drive().belt.teeth;
  if (!belt_teeth) {
    result.none = NoAssembly{NoAssembly::Reason::belt_teeth_unknown, "belt", 0.0, 0.0, {}, {}};
    return result;
  }
  Placed by_book = place(book, *belt_teeth, std::nullopt);
  const std::optional<double> near =
      by_book.setting ? std::optional<double>(by_book.setting->q) : std::nullopt;
  Placed as_fitted = place(fitted, *belt_teeth, near);
  for (const Placed* placed : {&by_book, &as_fitted}) {
    if (placed->none) result.none = placed->none;
  }
  if (!result.none) result.none = pulley_out_of_mesh(book.drive(), by_book.path);
  if (!result.none) result.none = pulley_out_of_mesh(fitted.drive(), as_fitted.path);
  if (result.none) return result;
  Assembly assembly;
  assembly.belt_teeth = *belt_teeth;
  assembly.book = book.drive();
  assembly.fitted = fitted.drive();
  assembly.book_setting = by_book.setting;
  assembly.fitted_setting = as_fitted.setting;
  if (by_book.setting && as_fitted.setting) {
    assembly.setting_moved =
        assembly.fitted.tensioner->path.apart(as_fitted.setting->q, by_book.setting->q);
  }
  assembly.book_path = std::move(by_book.path);
  assembly.fitted_path = std::move(as_fitted.path);
  assembly.shafts = list_shafts(fitted.spec(), assembly.fitted);
  BeltFitter(assembly, fitted, mishap, list_shafts(book.spec(), assembly.book)).fit_all();
  result.assembly = std::move(assembly);
  return result;
}

bool Assembly::setting_is_moved() const {
  return setting_moved && *setting_moved > fitted.tensioner->set_give;
}

}  // namespace twoturn
