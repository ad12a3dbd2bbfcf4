// SPDX-License-Identifier: Apache-2.0
// Fontconfig keeps its cache of fonts until the process ends and loses track of parts of it; the
// leak check of the sanitizers is told so, and watches everything else.
extern "C" const char* __lsan_default_suppressions();  // NOLINT(bugprone-reserved-identifier)

extern "C" const char* __lsan_default_suppressions() {  // NOLINT(bugprone-reserved-identifier)
  return "leak:libfontconfig\n";
}
