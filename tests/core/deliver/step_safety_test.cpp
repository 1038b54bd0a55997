// SPDX-License-Identifier: MIT
#include "core/base/atomic_file.h"
#include "core/deliver/step.h"
#include "core/deliver/step_verify.h"
#include "tests/core/deliver/shapes.h"
#include "tests/support/reader.h"
#include "tests/support/scratch_folder.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <BRepAlgoAPI_Cut.hxx>
#include <BRepPrimAPI_MakeCylinder.hxx>
#include <BRep_Builder.hxx>
#include <TopoDS.hxx>
#include <gp_Ax2.hxx>
#include <gp_Trsf.hxx>
#include <gp_Vec.hxx>

#include <csignal>
#include <fstream>
#include <sys/resource.h>
#include <thread>

namespace touchmark::deliver {
namespace {

using test::ScratchFolder;
using testing::ElementsAre;
using testing::HasSubstr;

void put(const std::filesystem::path& file, std::string_view text) {
    std::ofstream(file) << text;
}

Result<StepReport> write(const part::Part& part, const std::filesystem::path& file, const StepOptions& options = {}) {
    return write_step(part, file, options, test::reader(), Progress());
}

void expect_untouched(const ScratchFolder& folder) {
    EXPECT_EQ(*read_text(folder / "part.step"), "old");
    EXPECT_THAT(folder.names(), ElementsAre("part.step"));
}

TEST(WriteStep, ReportsWhatWasReadBack) {
    const ScratchFolder folder;
    const auto report = write(*test::box_part(10, 20, 30), folder / "part.step");
    ASSERT_TRUE(report) << report.error().message;
    EXPECT_EQ(report->solids, 1);
    EXPECT_EQ(report->faces, 6);
    EXPECT_NEAR(report->volume_mm3, 6000, 1e-6);
    EXPECT_GT(report->bytes, 1000u);
}

TEST(WriteStep, AVolumeThatIsNotTheOneMeantIsRefused) {
    const ScratchFolder folder;
    put(folder / "part.step", "old");
    const part::PartPtr box = test::box_part(10, 20, 30);
    for (const double wrong : {6000 * (1 + 2e-6), 6000 * (1 - 2e-6), 0.0, -6000.0}) {
        const auto report = write(*box, folder / "part.step", {.volume_mm3 = wrong});
        ASSERT_FALSE(report) << wrong;
        EXPECT_EQ(report.error().code, "deliver.verify");
        EXPECT_THAT(report.error().message, HasSubstr("the volume is 6000 mm³ instead of"));
        EXPECT_FALSE(report.error().hint.empty());
    }
    expect_untouched(folder);
    EXPECT_FALSE(write(*box, folder / "part.step", {.volume_mm3 = 6001, .volume_tolerance_mm3 = 0.9}));
    EXPECT_TRUE(write(*box, folder / "part.step", {.volume_mm3 = 6001, .volume_tolerance_mm3 = 1.1}));
}

TEST(WriteStep, AFullDiskKeepsTheOldFile) {
    const ScratchFolder folder;
    put(folder / "part.step", "old");
    const part::PartPtr box = test::box_part(10, 20, 30);
    // No file may grow beyond 4 kB: writing then fails as on a full disk.
    rlimit before{};
    ASSERT_EQ(::getrlimit(RLIMIT_FSIZE, &before), 0);
    const rlimit small{4 << 10, before.rlim_max};
    const auto handler = std::signal(SIGXFSZ, SIG_IGN);
    ASSERT_EQ(::setrlimit(RLIMIT_FSIZE, &small), 0);
    const auto report = write(*box, folder / "part.step");
    ::setrlimit(RLIMIT_FSIZE, &before);
    std::signal(SIGXFSZ, handler);
    ASSERT_FALSE(report);
    EXPECT_THAT(report.error().code, testing::AnyOf("deliver.write", "file.not_writable"));
    EXPECT_THAT(report.error().hint, HasSubstr("disk"));
    expect_untouched(folder);
}

TEST(WriteStep, RefusesAFolderThatIsNotThere) {
    const ScratchFolder folder;
    EXPECT_EQ(write(*test::box_part(1, 2, 3), folder / "none" / "part.step").error().code, "file.not_writable");
    EXPECT_EQ(write(*test::box_part(1, 2, 3), folder.path()).error().code, "file.not_writable");
}

TEST(WriteStep, CancelledLeavesTheOldFile) {
    const ScratchFolder folder;
    put(folder / "part.step", "old");
    const part::PartPtr box = test::box_part(10, 20, 30);
    Progress before;
    before.cancel();
    EXPECT_EQ(write_step(*box, folder / "part.step", {}, test::reader(), before).error().code, cancelled_code);
    // While reading back.
    Progress* later = nullptr;
    Progress during([&](double, std::string_view text) {
        if (text.find("back") != std::string_view::npos) later->cancel();
    });
    later = &during;
    EXPECT_EQ(write_step(*box, folder / "part.step", {}, test::reader(), during).error().code, cancelled_code);
    expect_untouched(folder);
}

TEST(WriteStep, WorksFromSeveralThreadsAtOnce) {
    const ScratchFolder folder;
    const part::PartPtr box = test::box_part(10, 20, 30);
    std::vector<std::thread> threads;
    std::vector<Error> errors(4);
    for (std::size_t i = 0; i < errors.size(); ++i)
        threads.emplace_back([&, i] {
            const auto report = write(*box, folder / (std::to_string(i) + ".step"),
                                      {.schema = i % 2 == 0 ? StepSchema::ap214 : StepSchema::ap242});
            if (!report) errors[i] = report.error();
        });
    for (std::thread& thread : threads)
        thread.join();
    for (std::size_t i = 0; i < errors.size(); ++i) {
        EXPECT_EQ(errors[i].message, "");
        EXPECT_THAT(*read_text(folder / (std::to_string(i) + ".step")),
                    HasSubstr(i % 2 == 0 ? "AUTOMOTIVE_DESIGN" : "AP242_MANAGED"));
    }
}

/// What a careless writer might have lost.
TEST(SamePart, SaysWhatDiffers) {
    const part::PartPtr box = test::box_part(10, 20, 30);
    EXPECT_TRUE(same_part(*box, *test::box_part(10, 20, 30), {}));
    EXPECT_THAT(same_part(*box, *test::box_part(10, 20, 30.001), {}).error().message,
                HasSubstr("the volume is 6000.2"));

    const TopoDS_Shape drilled =
        BRepAlgoAPI_Cut(BRepPrimAPI_MakeBox(10, 20, 30).Shape(),
                        BRepPrimAPI_MakeCylinder(gp_Ax2(gp_Pnt(5, 10, -1), gp_Dir(0, 0, 1)), 1, 40));
    EXPECT_THAT(same_part(*box, *test::part_of(test::model_of(drilled, "Box")), {}).error().message,
                HasSubstr("7 faces instead of 6"));

    TopoDS_Compound two;
    BRep_Builder builder;
    builder.MakeCompound(two);
    builder.Add(two, BRepPrimAPI_MakeBox(10, 20, 15).Shape());
    gp_Trsf move;
    move.SetTranslation(gp_Vec(0, 0, 15));
    builder.Add(two, BRepPrimAPI_MakeBox(10, 20, 15).Shape().Moved(move));
    EXPECT_THAT(same_part(*box, *test::part_of(test::model_of(two, "Box")), {}).error().message,
                HasSubstr("2 solids instead of 1"));
}

TEST(SamePart, NoticesAnOpenShell) {
    // A box whose lid is another face of the same size that shares no edge with it.
    const TopoDS_Shape whole = BRepPrimAPI_MakeBox(10, 20, 30).Shape();
    const TopoDS_Shape other = BRepPrimAPI_MakeBox(10, 20, 30).Shape();
    BRep_Builder builder;
    TopoDS_Shell shell;
    builder.MakeShell(shell);
    for (int i = 0; i < 5; ++i)
        builder.Add(shell, test::nth_face(whole, i));
    builder.Add(shell, test::nth_face(other, 5));
    TopoDS_Solid solid;
    builder.MakeSolid(solid);
    builder.Add(solid, shell);
    const part::PartPtr open = test::part_of(test::model_of(solid, "Box"));
    ASSERT_NEAR(open->volume_mm3(), 6000, 1e-6) << "the volume alone does not tell";
    EXPECT_FALSE(same_part(*test::box_part(10, 20, 30), *open, {}));
    EXPECT_TRUE(same_part(*open, *open, {})) << "a part that came in open may leave open";
}

} // namespace
} // namespace touchmark::deliver
