// SPDX-License-Identifier: MIT
#include "app/window/start.h"

#include "app/resources.h"
#include "app/window/banner.h"
#include "app/window/files.h"
#include "app/window/main_window.h"

#include <QApplication>
#include <QCommandLineParser>
#include <QElapsedTimer>
#include <QIcon>
#include <QSurfaceFormat>
#include <QTimer>
#include <cstdio>
#include <future>

namespace touchmark::window {
namespace {

constexpr int picture_timeout_ms = 60'000;

int complain(const Error& error) {
    std::fprintf(stderr, "touchmark: %s %s\n", error.message.c_str(), error.hint.c_str());
    return 4;
}

/// Waits until what is shown is settled, then writes the window as it is.
void take_picture(MainWindow& window, const QString& file, bool expects_part) {
    auto* timer = new QTimer(&window);
    auto waited = std::make_shared<QElapsedTimer>();
    waited->start();
    QObject::connect(timer, &QTimer::timeout, &window, [&window, timer, waited, file, expects_part] {
        session::Session& session = window.session();
        const bool settled = !expects_part || !window.banner().message().isEmpty() ||
                             (session.part() && session.evaluation_is_current() &&
                              (session.solid() || session.solid_trouble() || session.job().marks.empty()));
        if (!settled && waited->elapsed() < picture_timeout_ms) return;
        timer->stop();
        QTimer::singleShot(800, &window, [&window, file] { // the last frame, the camera at rest
            const bool written = window.grab().save(file);
            if (!written) std::fprintf(stderr, "touchmark: %s could not be written\n", qPrintable(file));
            QCoreApplication::exit(written ? 0 : 4);
        });
    });
    timer->start(50);
}

QSize size_of(const QString& words, QSize otherwise) {
    const QStringList sides = words.split(u'x');
    const QSize size(sides.value(0).toInt(), sides.value(1).toInt());
    return size.isValid() && !size.isEmpty() ? size : otherwise;
}

} // namespace

int start(int argc, char** argv, std::shared_ptr<part::Reader> reader) {
    auto fonts = std::async(std::launch::async, [] { return content::FontLibrary::system(); });
    QSurfaceFormat format; // before the application, so that every context shares it
    format.setVersion(3, 2);
    format.setProfile(QSurfaceFormat::CoreProfile);
    format.setSamples(0);
    QSurfaceFormat::setDefaultFormat(format);
    QApplication::setApplicationName(QStringLiteral("touchmark"));
    QApplication::setOrganizationName(QStringLiteral("touchmark"));
    QApplication::setApplicationDisplayName(QStringLiteral("Touchmark"));
    QApplication::setApplicationVersion(QStringLiteral(TOUCHMARK_VERSION));
    QApplication::setDesktopFileName(QStringLiteral("touchmark"));
    QApplication application(argc, argv);
    application.setWindowIcon(QIcon(QString::fromStdString((resources_folder() / "icons" / "touchmark.svg").string())));

    QCommandLineParser parser;
    parser.setApplicationDescription(
        QCoreApplication::translate("start", "Puts marks on parts and shows how they will print."));
    parser.addHelpOption();
    parser.addVersionOption();
    const QCommandLineOption open("open", "Open a STEP part or a job.", "FILE"),
        picture("screenshot", "Write a picture of the window and quit.", "PNG"),
        size("size", "Size of the window.", "WxH"), appearance("appearance", "light, dark or system.", "WHICH");
    parser.addOptions({open, picture, size, appearance});
    parser.addPositionalArgument("FILE", "A STEP part or a job.", "[FILE]");
    parser.process(application);

    auto profiles = process::load_built_in(resources_folder());
    if (!profiles) return complain(profiles.error());
    auto library = fonts.get();
    if (!library) return complain(library.error());
    MainWindow window({.parts = {std::move(reader), *library,
                                 std::make_shared<const std::vector<process::Process>>(profiles->processes())},
                       .settings_file = {},
                       .built_in = *std::move(profiles),
                       .own_profiles = own_processes_folder()});
    if (parser.isSet(size)) window.resize(size_of(parser.value(size), window.size()));
    if (parser.isSet(appearance)) window.set_appearance(appearance_from(parser.value(appearance)));
    window.show();
    const QString file = parser.isSet(open) ? parser.value(open) : parser.positionalArguments().value(0);
    if (!file.isEmpty()) window.files().open(file);
    if (parser.isSet(picture)) take_picture(window, parser.value(picture), !file.isEmpty());
    return QApplication::exec();
}

} // namespace touchmark::window
