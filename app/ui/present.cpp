#include "app/ui/present.h"

#include "app/ui/present_ear.h"

namespace holdwell {
namespace {

ScreenView screen_of(const Model& model)
{
    switch (model.screen) {
    case Screen::welcome:
        return present_welcome();
    case Screen::help:
        return present_help();
    case Screen::sound_check:
        return present_sound_check(model);
    case Screen::practice:
        return present_practice(model);
    case Screen::choices:
        return present_choices(model);
    case Screen::details:
        return present_details(model);
    case Screen::tolerance:
        return present_tolerance(model);
    case Screen::starts:
        return present_starts(model);
    case Screen::calibration:
        return present_calibration(model);
    case Screen::no_microphone:
        return present_no_microphone(model);
    case Screen::page:  // the stack's own
        return PageView{};
    }
    return present_help();
}

ShadeWish shade_of(Theme theme)
{
    switch (theme) {
    case Theme::light:
        return ShadeWish::light;
    case Theme::dark:
        return ShadeWish::dark;
    case Theme::automatic:
        break;
    }
    return ShadeWish::as_system;
}

}  // namespace

WindowView present(const Model& model)
{
    return {.screen = screen_of(model),
            .shade = shade_of(model.preferences.theme),
            .text_percent = model.preferences.text_percent,
            .page = model.page,
            .shows = model.turned == Model::Turned::no ? WindowView::Shows::row_in_focus
                                                       : WindowView::Shows::page};
}

}  // namespace holdwell
