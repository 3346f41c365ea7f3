#include "twoturn/drive/reading.hpp"

namespace twoturn {

const char* unit(TensionerKind kind) { return kind == TensionerKind::swing ? "deg" : "mm"; }

std::string in_unit(const char* stem, TensionerKind kind) {
  return std::string(stem) + '_' + unit(kind);
}

int digits(TensionerKind kind) { return kind == TensionerKind::swing ? 1 : 2; }

}  // namespace twoturn
