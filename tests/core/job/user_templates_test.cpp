// SPDX-License-Identifier: MIT
#include "core/job/user_templates.h"

#include "tests/support/scratch_folder.h"

#include <gtest/gtest.h>

namespace touchmark::job {
namespace {

TEST(UserTemplates, ComeBackAsTheyWereSaved) {
    const test::ScratchFolder folder;
    const content::Content contents[] = {
        content::Text{.text = "LOT\n48", .weight = 650, .cap_height = Mm(3.25), .features = "zero"},
        content::Code{.symbology = content::Symbology::qr, .message = "https://example.com"},
        content::Art{.name = "a.svg", .drawing = std::make_shared<const content::Drawing>("<svg/>"), .size_mm = 7}};
    for (const content::Content& content : contents) {
        ASSERT_TRUE(save_template(folder / "deep", "Größe 1", content));
        const auto back = load_template(folder / "deep", "Größe 1");
        ASSERT_TRUE(back) << back.error().message;
        EXPECT_EQ(*back, content);
    }
    EXPECT_EQ(template_names(folder / "deep"), std::vector<std::string>{"Größe 1"});
}

TEST(UserTemplates, NamesLeadNowhereElse) {
    const test::ScratchFolder folder;
    for (const char* name : {"", "../x", "a/b", "a.b"}) {
        EXPECT_EQ(save_template(folder.path(), name, content::Text{}).error().code, "job.template_name") << name;
        EXPECT_EQ(load_template(folder.path(), name).error().code, "job.template_name") << name;
    }
    EXPECT_EQ(load_template(folder.path(), "gone").error().code, "job.no_template");
    EXPECT_TRUE(folder.names().empty());
}

} // namespace
} // namespace touchmark::job
