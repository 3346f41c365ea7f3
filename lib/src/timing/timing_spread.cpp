#include "twoturn/timing/timing_spread.hpp"

#include <cmath>

#include "base/at.hpp"
#include "twoturn/timing/assembly.hpp"
#include "way_change.hpp"

namespace twoturn {
namespace {

// One shaft of an assembly as its error is read: by the belt at its pulley, or off its driver.
struct TimedShaft {
  MarkedPulley pulley;
  Way way = Way::against_travel;
  int from = -1;  ///< geared: place of the driving shaft in the list
  double own_deg_a_tooth = 0.0;
  double teeth_out = 0.0;
  double turned_on_shaft_deg = 0.0;
  bool free = false;  ///< turns on its shaft until tightened: nothing puts the shaft out
  bool crank = false;
  double ratio = 1.0;
  std::optional<double> turns_per_crank;
};

// The shafts of an assembly, and their errors in any throw of its two drives.
class TimingErrors {
 public:
  TimingErrors(const Assembly& assembly, const BuildSpec& build,
               const std::vector<Shaft>& book_shafts) {
    for (std::size_t i = 0; i < assembly.shafts.size(); ++i) {
      shafts_.push_back(timed(assembly, build, book_shafts[i], i));
      const Shaft& shaft = assembly.shafts[i];
      if (i > 0 && shaft.timed() && !shaft.wrong_ratio()) asked_.push_back(i);
    }
  }

  const std::vector<std::size_t>& asked() const { return asked_; }

  void operator()(const ThrownDrive& book, const ThrownDrive& fitted,
                  std::span<double> values) const {
    const MarkedPulley& crank = shafts_.front().pulley;
    const Throw one{book, fitted, book_mark(book.placed, crank).from_entry_mm,
                    fitted_mark_from_entry_mm({book.placed, fitted.placed}, crank)};
    for (std::size_t k = 0; k < asked_.size(); ++k) {
      const TimedShaft& shaft = shafts_[asked_[k]];
      values[k] = own_error_deg(shaft, one) / *shaft.turns_per_crank;
    }
  }

 private:
  struct Throw {
    const ThrownDrive& book;
    const ThrownDrive& fitted;
    double book_crank_mm;  ///< the crank's mark from its entry
    double fitted_crank_mm;
  };

  static TimedShaft timed(const Assembly& assembly, const BuildSpec& build, const Shaft& book,
                          std::size_t i) {
    const Shaft& shaft = assembly.shafts[i];
    const ShaftFit& fit = assembly.fits[i];
    TimedShaft timed;
    timed.pulley = {book.pulley, shaft.pulley, {}};
    if (!book.marks.empty()) timed.pulley.mark = Angle::clock(book.marks[0].at_deg);
    timed.way = fit.reference;
    timed.from = shaft.pulley < 0 ? shaft.from : -1;
    timed.own_deg_a_tooth = shaft.teeth > 0 ? 360.0 / shaft.teeth : 0.0;
    const auto out = [&](const std::string& name) {
      const auto found = build.teeth_out.find(name);
      return found == build.teeth_out.end() ? 0 : found->second;
    };
    timed.teeth_out = out(shaft.name) - out(assembly.crank().name);
    timed.turned_on_shaft_deg = fit.turned_on_shaft_deg;
    timed.free = shaft.fixing == Fixing::free_until_tightened;
    timed.crank = i == 0;
    timed.ratio = std::abs(shaft.ratio);
    timed.turns_per_crank = shaft.turns_per_crank;
    return timed;
  }

  // The belt goes on in the nearest whole-tooth place, in each throw anew.
  double own_error_deg(const TimedShaft& shaft, const Throw& one) const {
    if (shaft.from >= 0) return shaft.ratio * own_error_deg(shafts_[at(shaft.from)], one);
    if (shaft.free || shaft.crank) return 0.0;
    const PlacedPath& book = one.book.placed;
    const PlacedPath& fitted = one.fitted.placed;
    const double drawn = crank_to_mark_mm(book, shaft.pulley.book, shaft.way, one.book_crank_mm,
                                          book_mark(book, shaft.pulley).from_entry_mm);
    const double built =
        crank_to_mark_mm(fitted, shaft.pulley.fitted, shaft.way, one.fitted_crank_mm,
                         fitted_mark_from_entry_mm({book, fitted}, shaft.pulley));
    const double stretched = one.fitted.tooth_mm / one.book.tooth_mm * drawn;
    const double change = (built - stretched) / one.book.tooth_mm;
    return (std::round(change) + shaft.teeth_out - change) * shaft.own_deg_a_tooth -
           shaft.turned_on_shaft_deg;
  }

  std::vector<TimedShaft> shafts_;
  std::vector<std::size_t> asked_;
};

}  // namespace

std::optional<SpreadBeside> timing_beside(const Fitted& book, const Fitted& fitted) {
  if (!changes_the_drive(fitted.spec().build)) return std::nullopt;
  const AssemblyResult put_on = assemble(book, fitted);
  if (!put_on.assembly) return std::nullopt;
  const Assembly& assembly = *put_on.assembly;
  TimingErrors errors(assembly, fitted.spec().build, list_shafts(book.spec(), assembly.book));
  SpreadBeside beside{book, {}, {}, 0.0};
  for (const std::size_t i : errors.asked()) beside.names.push_back(assembly.shafts[i].name);
  if (beside.names.empty()) return std::nullopt;
  constexpr double kToldDeg = 5e-4;  // half of the last digit that is printed
  beside.nothing = kToldDeg;
  beside.read = std::move(errors);
  return beside;
}

}  // namespace twoturn
