// SPDX-License-Identifier: MIT
#include "app/window/actions.h"

#include "app/panels/look.h"

#include <QActionGroup>
#include <QMenuBar>
#include <array>

namespace touchmark::window {
namespace {

constexpr std::string_view alone = "alone"; ///< on or off by itself

constexpr ActionRow line(std::string_view menu) {
    return {"-", menu, "", "", "", ""};
}

constexpr std::array rows{
    ActionRow{"open", "File", "Open …", "Ctrl+O", "A STEP part or a saved job", ""},
    ActionRow{"recent", "File/Open recent", "", "", "", ""},
    ActionRow{"demo", "File", "Open the demo part", "", "A small bracket to try things on", ""},
    line("File"),
    ActionRow{"save_job", "File", "Save job", "Ctrl+S", "The marks, the pose and the process, to go on with later", ""},
    ActionRow{"save_job_as", "File", "Save job as …", "Ctrl+Shift+S", "Under another name", ""},
    ActionRow{"save_step", "File", "Save marked STEP …", "Ctrl+E",
              "The part with its marks cut or raised, checked by reading it back", ""},
    line("File"),
    ActionRow{"close", "File", "Close part", "Ctrl+W", "Back to an empty bench", ""},
    ActionRow{"quit", "File", "Quit", "Ctrl+Q", "", ""},

    ActionRow{"undo", "Edit", "Undo", "Ctrl+Z", "Takes the last edit back", ""},
    ActionRow{"redo", "Edit", "Redo", "Ctrl+Shift+Z", "Makes it again", ""},
    line("Edit"),
    ActionRow{"new_mark", "Edit", "New mark", "Ctrl+M", "On the side wall that takes it best", ""},
    ActionRow{"place_mark", "Edit", "New mark where I click", "Ctrl+Shift+M", "The next click on a face places it", ""},
    ActionRow{"edit_text", "Edit", "Edit text", "F2", "Of the selected mark", ""},
    ActionRow{"duplicate", "Edit", "Duplicate mark", "Ctrl+D", "", ""},
    ActionRow{"delete", "Edit", "Delete mark", "Del", "", ""},
    ActionRow{"next_mark", "Edit", "Next mark", "Ctrl+Tab", "Selects it", ""},
    line("Edit"),
    ActionRow{"next_finding", "Edit", "Next finding", "F8", "Flies to the spot", ""},
    ActionRow{"previous_finding", "Edit", "Previous finding", "Shift+F8", "Flies to the spot", ""},
    ActionRow{"first_fix", "Edit", "Apply first fix", "Ctrl+.", "Of the selected finding, or of the worst", ""},

    ActionRow{"process", "Part/Process", "", "", "", ""},
    ActionRow{"lay_face", "Part", "Lay a face down …", "Ctrl+L", "Pick the face that is to lie on the plate", ""},
    ActionRow{"keep_clear", "Part", "Keep faces clear …", "Ctrl+Shift+K",
              "Sealing, mating and load-bearing faces: findings and fixes keep marks off them", ""},
    ActionRow{"turn_left", "Part", "Turn left", "Ctrl+[", "A quarter turn about the vertical", ""},
    ActionRow{"turn_right", "Part", "Turn right", "Ctrl+]", "A quarter turn about the vertical", ""},
    ActionRow{"pose_of_file", "Part", "Stand as in the file", "", "Undoes every turn of the part", ""},

    line("Part"),
    ActionRow{"profiles", "Part", "Process profiles …", "Ctrl+Shift+P",
              "Every figure with where it comes from, and your own", ""},
    ActionRow{"fit_to_prints", "Part", "Fit to prints …", "Ctrl+Shift+T",
              "A test strip to print, and the profile that your printer makes of it", ""},
    ActionRow{"over_run", "Part", "Over the run …", "Ctrl+Shift+R",
              "Rejects, hours and cost that the marks bring, and what else they could be", ""},

    ActionRow{"fit", "View", "Whole part", "Home", "Fits the part into the picture", ""},
    ActionRow{"zoom_mark", "View", "Selected mark", "Ctrl+Home", "Squarely, close up", ""},
    ActionRow{"shaded", "View", "Shade by how it prints", "", "Off: the part plain", alone},
    ActionRow{"as_printed", "View", "Marks as they print", "F6", "Off: as they are drawn", alone},
    ActionRow{"print_window", "View", "Print in simulation …", "Shift+F6",
              "Layers, lights and what is left of each letter", ""},
    ActionRow{"measure", "View", "Measure", "Ctrl+R", "Between two points of the part", alone},
    line("View"),
    ActionRow{"look_front", "View/Look from", "Front", "Ctrl+1", "", ""},
    ActionRow{"look_right", "View/Look from", "Right", "Ctrl+2", "", ""},
    ActionRow{"look_back", "View/Look from", "Back", "Ctrl+3", "", ""},
    ActionRow{"look_left", "View/Look from", "Left", "Ctrl+4", "", ""},
    ActionRow{"look_top", "View/Look from", "Above", "Ctrl+5", "", ""},
    ActionRow{"look_bottom", "View/Look from", "Below", "Ctrl+6", "", ""},
    ActionRow{"appearance_system", "View/Appearance", "As the desktop", "", "", "appearance"},
    ActionRow{"appearance_light", "View/Appearance", "Light", "", "", "appearance"},
    ActionRow{"appearance_dark", "View/Appearance", "Dark", "", "", "appearance"},

    ActionRow{"find", "Help", "Find an action …", "Ctrl+K", "Type what you want to do", ""},
    ActionRow{"docs", "Help", "Read the pages", "F1", "Short pages, one a task", ""},
    ActionRow{"about", "Help", "About Touchmark", "", "", ""},
};

/// What a menu holds, that of the menus in it too, each once.
void gather(const QMenu& menu, std::vector<QAction*>& found) {
    for (QAction* action : menu.actions()) {
        if (action->menu())
            gather(*action->menu(), found);
        else if (!action->isSeparator() && action->objectName().isEmpty()) // named: a row of the table
            found.push_back(action);
    }
}

} // namespace

std::span<const ActionRow> action_rows() {
    return rows;
}

Actions::Actions(QMainWindow& window) {
    std::map<std::string_view, QActionGroup*> groups;
    for (const ActionRow& row : rows) {
        QMenu* menu = nullptr;
        std::string path;
        for (std::string_view rest = row.menu; !rest.empty();) {
            const std::size_t slash = rest.find('/');
            const std::string_view step = rest.substr(0, slash);
            rest = slash == std::string_view::npos ? std::string_view() : rest.substr(slash + 1);
            path += (path.empty() ? "" : "/") + std::string(step);
            QMenu*& known = menus_[path];
            if (!known)
                known = menu ? menu->addMenu(panels::text(step)) : window.menuBar()->addMenu(u'&' + panels::text(step));
            known->setToolTipsVisible(true);
            menu = known;
        }
        if (row.id == "-") {
            menu->addSeparator();
            continue;
        }
        if (row.title.empty()) continue; // a menu filled later
        QAction* action = menu->addAction(panels::text(row.title));
        action->setObjectName(panels::text(row.id));
        action->setToolTip(panels::text(row.help.empty() ? row.title : row.help));
        action->setStatusTip(panels::text(row.help));
        if (!row.shortcut.empty())
            action->setShortcut(QKeySequence::fromString(panels::text(row.shortcut), QKeySequence::PortableText));
        if (row.group == alone)
            action->setCheckable(true);
        else if (!row.group.empty()) {
            QActionGroup*& group = groups[row.group];
            if (!group) group = new QActionGroup(&window);
            action->setCheckable(true);
            group->addAction(action);
        }
        actions_.emplace(row.id, action);
    }
}

QAction& Actions::operator[](std::string_view id) const {
    return *actions_.at(id);
}
QMenu& Actions::menu(std::string_view path) const {
    return *menus_.find(path)->second;
}

std::vector<QAction*> Actions::all() const {
    std::vector<QAction*> found;
    for (const ActionRow& row : rows) {
        if (const auto one = actions_.find(row.id); one != actions_.end())
            found.push_back(one->second);
        else if (row.id != "-")
            gather(*menus_.find(row.menu)->second, found);
    }
    return found;
}

} // namespace touchmark::window
