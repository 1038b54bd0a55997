// SPDX-License-Identifier: MIT
#include "tests/app/session/opened.h"

#include "tests/app/support/application.h"
#include "tests/support/reader.h"

namespace touchmark::test {
namespace {
[[maybe_unused]] const auto* const application = testing::AddGlobalTestEnvironment(new Application);
}

session::Session::Parts session_parts() {
    static const auto fonts = content::FontLibrary::system().value();
    static const auto processes = std::make_shared<const std::vector<process::Process>>(
        process::load_processes(std::filesystem::path(TOUCHMARK_RESOURCES) / "processes").value());
    return {std::shared_ptr<part::Reader>(&reader(), [](part::Reader*) {}), fonts, processes};
}

std::filesystem::path demo_part() {
    return std::filesystem::path(TOUCHMARK_RESOURCES) / "demo" / "sensor-bracket.step";
}

bool open_and_wait(session::Session& session, const std::filesystem::path& file) {
    bool opened = false, failed = false;
    const auto a = QObject::connect(&session, &session::Session::opened, [&] { opened = true; });
    const auto b = QObject::connect(&session, &session::Session::failed, [&] { failed = true; });
    session.open(file);
    const bool done = wait_until([&] { return opened || failed; });
    QObject::disconnect(a);
    QObject::disconnect(b);
    return done && opened;
}

job::Mark mark_on_side_wall(const session::Session& session, const std::string& words) {
    const part::Face* best = nullptr;
    for (const part::Face& face : session.part()->faces()) {
        if (face.kind != part::FaceKind::plane || std::abs(face.frame.z.z) > 0.01) continue;
        if (!best || face.area_mm2 > best->area_mm2) best = &face;
    }
    job::Mark mark;
    mark.content = content::Text{.text = words};
    mark.anchor.face = best->index;
    mark.anchor.fingerprint = best->fingerprint;
    return mark;
}

} // namespace touchmark::test
