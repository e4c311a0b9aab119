#pragma once
// How often this program had the system force a file to the disk.

namespace holdwell::test {

int forced_writes();

}  // namespace holdwell::test
