// SPDX-License-Identifier: MIT
#include "app/window/process_menu.h"

#include "app/panels/look.h"
#include "app/panels/profile_groups.h"
#include "core/process/extrusion.h"

#include <QMenu>

namespace touchmark::window {
namespace {

constexpr std::size_t most_beside = 8; ///< own ones that stand in the menu itself

QMenu& menu_in(QMenu& menu, const QString& title) {
    QMenu* made = menu.addMenu(title);
    made->setToolTipsVisible(true);
    made->menuAction()->setCheckable(true);
    return *made;
}

} // namespace

void fill_process_menu(QMenu& menu, const process::Profiles& profiles, QAction& manage,
                       const std::function<void(const std::string&)>& choose) {
    menu.clear();
    for (QMenu* old : menu.findChildren<QMenu*>(Qt::FindDirectChildrenOnly))
        old->deleteLater();
    const auto add = [&](QMenu& into, const panels::GroupedProfile& one) {
        QAction* action = into.addAction(one.title);
        action->setCheckable(true);
        action->setData(panels::text(one.profile->process.id));
        action->setToolTip(panels::text(one.profile->process.title));
        QObject::connect(action, &QAction::triggered, &into, [choose, id = one.profile->process.id] { choose(id); });
    };
    for (const panels::ProfileGroup& group : panels::grouped(profiles)) {
        const bool extrusion = extrudes(group.profiles.front().profile->process) && !group.own;
        if (!extrusion) menu.addSeparator();
        QMenu& into = group.own && group.profiles.size() <= most_beside ? menu : menu_in(menu, group.title);
        for (const panels::GroupedProfile& one : group.profiles)
            add(into, one);
    }
    menu.addSeparator();
    menu.addAction(&manage);
}

void check_process(QMenu& menu, const std::string& id) {
    for (QAction* action : menu.actions()) {
        if (QMenu* inner = action->menu()) {
            check_process(*inner, id);
            bool any = false;
            for (const QAction* one : inner->actions())
                any = any || one->isChecked();
            action->setChecked(any);
        } else if (action->isCheckable()) {
            action->setChecked(action->data().toString().toStdString() == id);
        }
    }
}

} // namespace touchmark::window
