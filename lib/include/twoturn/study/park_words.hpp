#pragma once

#include <string>

#include "twoturn/study/parking.hpp"

namespace twoturn {

/// "forwards (the way it runs) 60.0 crank deg: meets no open valve; 5.31 mm at least, in cylinder
/// 2", or "...: NOT this way: ..." with what stands against it; without a full stop.
std::string told(const ParkWay& way);

}  // namespace twoturn
