#include "twoturn/drive/fitted.hpp"

#include "twoturn/drive/build_drive.hpp"
#include "twoturn/drive/tensioner_curve.hpp"
#include "twoturn/drive/uncertainty.hpp"

namespace twoturn {

struct Fitted::Parts {
  FittedSpec spec;
  Drive drive;
  Uncertainty uncertainty;
  std::optional<TensionerCurve> curve;
};

Fitted::Fitted(FittedSpec spec, Drive drive) : fit_(spec.fit()) {
  Uncertainty uncertainty(spec.spec(), drive);
  const auto parts =
      std::make_shared<Parts>(Parts{std::move(spec), std::move(drive), std::move(uncertainty), {}});
  if (parts->drive.tensioner) parts->curve.emplace(parts->drive);
  parts_ = parts;
}

const FittedSpec& Fitted::applied() const { return parts_->spec; }
const DriveSpec& Fitted::spec() const { return applied().spec(); }
const Drive& Fitted::drive() const { return parts_->drive; }

const Uncertainty& Fitted::uncertainty() const { return parts_->uncertainty; }

const TensionerCurve* Fitted::curve() const { return parts_->curve ? &*parts_->curve : nullptr; }

Fitted Fitted::named(Fit fit) const {
  Fitted same = *this;
  same.fit_ = fit;
  return same;
}

static FittedResult built_from(FittedSpec applied) {
  DriveResult built = build_drive(applied);
  FittedResult result;
  result.missing = std::move(built.missing);
  if (built.drive) result.fitted.emplace(std::move(applied), std::move(*built.drive));
  return result;
}

FittedResult fitted_for(const DriveSpec& spec, Fit fit) { return built_from(spec_for(spec, fit)); }

FittedResult warmed_fitted(const Fitted& cold, const Growth& growth, double belt_stretch) {
  return built_from(warmed_spec(cold.applied(), growth, belt_stretch));
}

BothFits both_fits(const DriveSpec& spec, Fit fit) {
  return both_fits(fitted_for(spec, Fit::by_the_book), spec, fit);
}

BothFits both_fits(FittedResult book, const DriveSpec& spec, Fit fit) {
  BothFits both{std::move(book), {}};
  const bool same_drive = fit == Fit::by_the_book || !changes_the_drive(spec.build);
  if (!same_drive) {
    both.asked = fitted_for(spec, fit);
    return both;
  }
  both.asked = both.book;
  if (both.asked.fitted) both.asked.fitted = both.asked.fitted->named(fit);
  return both;
}

}  // namespace twoturn
