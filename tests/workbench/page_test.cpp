// SPDX-License-Identifier: Apache-2.0
#include "workbench/page.h"

#include <gtest/gtest.h>

#include "workbench/content_type.h"

namespace combwright::workbench {
namespace {

TEST(Page, every_file_is_of_a_known_type) {
  EXPECT_FALSE(page_files().empty());
  for (const PageFile& file : page_files())
    EXPECT_NE(content_type(file.path), content_type("of no known ending")) << file.path;
}

}  // namespace
}  // namespace combwright::workbench
