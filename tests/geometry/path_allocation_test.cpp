// The hot path never allocates: every call of operator new in this program is counted.
#include <atomic>
#include <cstdlib>
#include <new>

#include "support/paths.hpp"

namespace {

std::atomic<long> allocations{0};

void* counted_allocation(std::size_t size) {
  allocations.fetch_add(1);
  if (void* memory = std::malloc(size == 0 ? 1 : size)) return memory;
  throw std::bad_alloc();
}

}  // namespace

void* operator new(std::size_t size) { return counted_allocation(size); }
void* operator new[](std::size_t size) { return counted_allocation(size); }
void* operator new(std::size_t size, const std::nothrow_t&) noexcept {
  allocations.fetch_add(1);
  return std::malloc(size == 0 ? 1 : size);
}
void* operator new[](std::size_t size, const std::nothrow_t& nothrow) noexcept {
  return operator new(size, nothrow);
}
void operator delete(void* memory) noexcept { std::free(memory); }
void operator delete[](void* memory) noexcept { std::free(memory); }
void operator delete(void* memory, std::size_t) noexcept { std::free(memory); }
void operator delete[](void* memory, std::size_t) noexcept { std::free(memory); }

namespace twoturn::test {
namespace {

std::vector<Wheel> ring(int count, double y_mm) {
  std::vector<Wheel> wheels;
  for (int i = 0; i < count; ++i) {
    const double t = kFullTurn * i / count;
    wheels.push_back(wheel(300.0 * std::cos(t), y_mm + 200.0 * std::sin(t), 25.0 + i));
  }
  return wheels;
}

TEST_CASE("allocations are counted") {
  const long before = allocations.load();
  const std::vector<Wheel> wheels = ring(3, 0.0);
  CHECK(wheels.size() == 3);
  CHECK(allocations.load() > before);
}

TEST_CASE("path_length never allocates, with a tangent or without") {
  const std::vector<Wheel> wheels = ring(12, 0.0);
  const std::vector<Wheel> without{wheel(0, 0, 50), wheel(10, 0, 20)};
  const long before = allocations.load();
  const PathResult found = path_length(wheels);
  const PathResult none = path_length(without);
  const long after = allocations.load();
  CHECK(found.solved());
  CHECK_FALSE(none.solved());
  CHECK(after == before);
}

TEST_CASE("a path that has held as many wheels is solved again without allocating") {
  const std::vector<Wheel> wheels = ring(12, 0.0);
  const std::vector<Wheel> others = ring(12, 40.0);
  const std::vector<Wheel> fewer = ring(5, 40.0);
  TangentPath path;
  REQUIRE(solve_path(wheels, path).solved());
  const double first_length = path.length_mm;
  std::vector<Vec2> gradient(fewer.size());
  const long before = allocations.load();
  const PathResult same = solve_path(others, path);
  const PathResult less = solve_path(fewer, path);
  centre_gradient(path, gradient);
  const PathFaults faults = examine_path(fewer, path);
  const long after = allocations.load();
  CHECK(same.length_mm != first_length);
  CHECK(less.solved());
  CHECK(path.spans.size() == fewer.size());
  CHECK(faults.wrong_way == 0.0);
  CHECK(after == before);
}

}  // namespace
}  // namespace twoturn::test
