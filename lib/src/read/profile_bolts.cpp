#include "profile_parts.hpp"

namespace twoturn::reading {
namespace {

BoltStageSpec read_stage(Section stage) {
  BoltStageSpec spec;
  spec.torque_nm = stage.torque("torque");
  spec.angle_deg = stage.number("angle_deg");
  stage.finish();
  return spec;
}

}  // namespace

BoltsSpec read_bolts(Section bolts) {
  BoltsSpec spec;
  spec.name = bolts.text("name").value_or("");
  spec.holds = bolts.text("holds");
  spec.count = bolts.count("count");
  spec.positions_mm = bolts.positions("positions");
  spec.order = bolts.counts("order");
  for (const Section& stage : bolts.tables("stage")) spec.stages.push_back(read_stage(stage));
  spec.pitch_mm = bolts.length("pitch");
  spec.length_mm = bolts.length("length");
  spec.shank_mm = bolts.length("shank");
  spec.modulus_n_mm2 = bolts.number("modulus_n_mm2");
  spec.joint_stiffness_n_mm = bolts.number("joint_stiffness_n_mm");
  spec.condition = bolts.choice<BoltCondition>("condition");
  spec.threads = bolts.choice<ThreadState>("threads");
  bolts.finish();
  return spec;
}

AccessHoleSpec read_access_hole(Section hole) {
  AccessHoleSpec spec;
  spec.name = hole.text("name").value_or("");
  spec.closed_by = hole.text("closed_by");
  spec.seal = hole.text("seal");
  hole.finish();
  return spec;
}

TraySpec read_tray(Section tray) {
  TraySpec spec;
  spec.name = tray.text("name").value_or("");
  spec.rows = tray.count("rows");
  spec.columns = tray.count("columns");
  tray.finish();
  return spec;
}

}  // namespace twoturn::reading
