#include "elastic_model.hpp"

namespace twoturn::elastic {

Model::Model(const ElasticBelt& belt, std::span<const ShaftLoad> loads,
             std::span<const double> rigid_rad)
    : belt_(belt),
      loads_(loads),
      rigid_rad_(rigid_rad),
      radius_(mapped(belt.radius_mm)),
      run_stiffness_(mapped(belt.run_stiffness_n_mm)),
      shafts_(radius_.size() - 1) {
  TWOTURN_ASSERT(shafts_ >= 1, static_cast<double>(shafts_));
  TWOTURN_ASSERT(run_stiffness_.size() == radius_.size(), static_cast<double>(shafts_));
  TWOTURN_ASSERT(loads.size() == belt.radius_mm.size(), static_cast<double>(loads.size()));
  TWOTURN_ASSERT(rigid_rad.size() == loads.size(), static_cast<double>(rigid_rad.size()));
  TWOTURN_ASSERT(radius_.minCoeff() > 0.0, radius_.minCoeff());
  TWOTURN_ASSERT(run_stiffness_.minCoeff() > 0.0, run_stiffness_.minCoeff());
  if (!belt.sprung) return;
  const SprungTensioner& arm = *belt.sprung;
  TWOTURN_ASSERT(arm.slack_stop <= arm.q0 && arm.q0 <= arm.tight_stop, arm.q0);
  reference_ = arm.length(arm.q0).value_or(LengthAt{});
  travel_ = arm.tight_stop - arm.slack_stop;
  slack_end_ = (arm.slack_stop - arm.q0) * reference_.rate;
  tight_end_ = (arm.tight_stop - arm.q0) * reference_.rate;
}

Vector Model::place_of(const ElasticState& state) const {
  TWOTURN_ASSERT(static_cast<Eigen::Index>(state.ahead_rad.size()) == radius_.size(),
                 static_cast<double>(state.ahead_rad.size()));
  Vector place(size());
  for (Eigen::Index shaft = 1; shaft <= shafts_; ++shaft) {
    place[shaft - 1] = state.ahead_rad[static_cast<std::size_t>(shaft)] * radius_[shaft];
  }
  if (belt_.sprung) {
    const double way = (state.q - belt_.sprung->q0) * reference_.rate;
    place[shafts_] = std::clamp(way, slack_end_, tight_end_);
  }
  return place;
}

Look Model::look(const Place& place) const {
  Look look(size(), radius_.size());
  look.place() = place;
  if (belt_.sprung) {
    const auto length = belt_.sprung->length(q_of(place));
    if (!length) {
      look.fault = Settled::no_path;
      return look;
    }
    look.length = *length;
  }
  stretch(look, look.length.length_mm - reference_.length_mm);
  load(look);
  double greatest = 0.0;
  for (Eigen::Index shaft = 1; shaft <= shafts_; ++shaft) {
    const double driven = look.torque()[shaft] / radius_[shaft];
    look.pull()[shaft - 1] = look.tension()[shaft - 1] - look.tension()[shaft] + driven;
    greatest = std::max(greatest, std::abs(driven));
  }
  if (belt_.sprung) {
    const double tension = look.tension()[belt_.sprung->run];
    look.pull()[shafts_] = (tension * look.length.rate - spring(q_of(place))) / reference_.rate;
  }
  look.scale_n = belt_.static_tension_n + look.tension().maxCoeff() + greatest;
  if (!look.finite()) look.fault = Settled::load_not_finite;
  return look;
}

Matrix Model::stiffness(const Look& look) const {
  Matrix whole = Matrix::Zero(size(), size());
  for (Eigen::Index run = 0; run <= shafts_; ++run) {
    if (look.tension()[run] > 0.0) add_run(look, run, whole);
  }
  for (Eigen::Index shaft = 1; shaft <= shafts_; ++shaft) {
    whole(shaft - 1, shaft - 1) += look.torque_rate()[shaft] / (radius_[shaft] * radius_[shaft]);
  }
  if (belt_.sprung && travel_ > 0.0) {
    const double tension = look.tension()[belt_.sprung->run];
    const double bent = tension > 0.0 ? tension * bend(q_of(look.place())) : 0.0;
    whole(shafts_, shafts_) +=
        (bent + belt_.sprung->stiffness) / (reference_.rate * reference_.rate);
  }
  return whole;
}

Vector Model::end_of(const Place& place, const Place& step) const {
  double share = 1.0;
  for (Eigen::Index k = 0; k < size(); ++k) {
    const double most =
        k < shafts_ ? kMostTurn * radius_[k + 1] : kMostOfTravel * (tight_end_ - slack_end_);
    if (std::abs(step[k]) * share > most) share = most / std::abs(step[k]);
  }
  Vector to = place + share * step;
  if (!belt_.sprung) return to;
  const double stop = std::clamp(to[shafts_], slack_end_, tight_end_);
  if (stop != to[shafts_]) to = place + (stop - place[shafts_]) / step[shafts_] * step;
  to[shafts_] = stop;
  return to;
}

double Model::energy_change(const Look& from, const Look& to, int pieces) const {
  // Differences of squares as products: they keep their digits where little changes.
  const Vector twice_mean = from.tension() + to.tension();
  const Vector stretched = (to.tension() - from.tension()).cwiseQuotient(run_stiffness_);
  double change = 0.5 * twice_mean.dot(stretched);
  if (belt_.sprung) change += spring_energy_change(q_of(from.place()), q_of(to.place()));
  for (Eigen::Index shaft = 1; shaft <= shafts_; ++shaft) {
    change += load_energy_change(shaft, ahead_rad(from.place(), shaft),
                                 ahead_rad(to.place(), shaft), pieces);
  }
  return change;
}

bool Model::undetermined(const Look& look, Eigen::Index shaft) const {
  const double radius = radius_[shaft];
  const double least_rate = kFlat * run_stiffness_.maxCoeff() * radius * radius;
  return slack(look, shaft - 1) && slack(look, shaft) &&
         std::abs(look.torque()[shaft]) <= kWanted * look.scale_n * radius &&
         std::abs(look.torque_rate()[shaft]) <= least_rate;
}

void Model::add_run(const Look& look, Eigen::Index run, Matrix& whole) const {
  std::array<std::pair<Eigen::Index, double>, 3> longer;
  std::size_t count = 0;
  if (run < shafts_) longer[count++] = {run, 1.0};
  if (run > 0) longer[count++] = {run - 1, -1.0};
  if (belt_.sprung && belt_.sprung->run == run) {
    longer[count++] = {shafts_, look.length.rate / reference_.rate};
  }
  for (std::size_t i = 0; i < count; ++i) {
    for (std::size_t j = 0; j < count; ++j) {
      whole(longer[i].first, longer[j].first) +=
          run_stiffness_[run] * longer[i].second * longer[j].second;
    }
  }
}

void Model::load(Look& look) const {
  for (Eigen::Index shaft = 0; shaft <= shafts_; ++shaft) {
    const auto index = static_cast<std::size_t>(shaft);
    if (!loads_[index]) continue;
    const double ahead = shaft > 0 ? ahead_rad(look.place(), shaft) : 0.0;
    const ShaftTorque torque = loads_[index](rigid_rad_[index] + ahead);
    look.torque()[shaft] = torque.nmm;
    look.torque_rate()[shaft] = torque.rate_nmm_per_rad;
  }
}

void Model::stretch(Look& look, double longer_mm) const {
  for (Eigen::Index run = 0; run <= shafts_; ++run) {
    const double ahead = run < shafts_ ? look.place()[run] : 0.0;
    const double behind = run > 0 ? look.place()[run - 1] : 0.0;
    const double roller = belt_.sprung && belt_.sprung->run == run ? longer_mm : 0.0;
    const double pulled = run_stiffness_[run] * (ahead - behind + roller);
    look.tension()[run] = std::max(0.0, belt_.static_tension_n + pulled);
  }
}

double Model::load_energy_change(Eigen::Index shaft, double from_rad, double to_rad,
                                 int pieces) const {
  const auto index = static_cast<std::size_t>(shaft);
  if (!loads_[index]) return 0.0;
  const double half = 0.5 * (to_rad - from_rad) / pieces;
  const double aside = std::sqrt(0.6);
  double sum = 0.0;
  for (int piece = 0; piece < pieces; ++piece) {
    const double middle = rigid_rad_[index] + from_rad + (2 * piece + 1) * half;
    sum += 5.0 * loads_[index](middle - aside * half).nmm + 8.0 * loads_[index](middle).nmm +
           5.0 * loads_[index](middle + aside * half).nmm;
  }
  return half * sum / 9.0;
}

double Model::bend(double q) const {
  const double apart = kApart * travel_;
  const auto low = belt_.sprung->length(q - apart);
  const auto high = belt_.sprung->length(q + apart);
  return low && high ? (high->rate - low->rate) / (2.0 * apart) : 0.0;
}

double Model::q_of(const Place& place) const {
  if (!belt_.sprung) return 0.0;
  const double way = place[shafts_];
  if (way <= slack_end_) return belt_.sprung->slack_stop;
  if (way >= tight_end_) return belt_.sprung->tight_stop;
  return belt_.sprung->q0 + way / reference_.rate;
}

}  // namespace twoturn::elastic
