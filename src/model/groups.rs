//! The groups of numbers as plain fields. List of fields and list of names stand once: a macro makes
//! the types, the names and the way from a table to a [`Model`] out of the same lines.

use super::Turn;

macro_rules! model {
    ($( $(#[$doc:meta])* $group:ident: $Group:ident { $($name:ident),+ $(,)? } )+) => {
        $(
            $(#[$doc])*
            #[derive(Clone, Copy, Debug, PartialEq)]
            pub struct $Group {
                $(
                    /// One number, in the unit that `assets/model.ron` gives it:
                    #[doc = concat!("`", stringify!($group), ".", stringify!($name), "`.")]
                    pub $name: f64,
                )+
            }
        )+

        /// Every number of the model. `assets/model.ron` says what each field means, in which unit, and
        /// where it comes from. Made only from a checked [`super::Table`].
        #[derive(Clone, Debug, PartialEq)]
        pub struct Model {
            $( $(#[$doc])* pub $group: $Group, )+
            pub(super) turn: Turn,
        }

        /// The names of all numbers, such as `looks.pivot_distance`.
        pub const NAMES: &[&str] = &[
            $($(concat!(stringify!($group), ".", stringify!($name)),)+)+
        ];

        impl Model {
            /// The model with the value that each name has.
            pub(super) fn build(mut value: impl FnMut(&'static str) -> f64) -> Model {
                let turn = Turn::of(value("body.turn_rate"));
                $(
                    let $group = $Group {
                        $($name: value(concat!(stringify!($group), ".", stringify!($name))),)+
                    };
                )+
                Model { $($group,)+ turn }
            }

            /// The value of every number, in the order of [`NAMES`].
            pub fn values(&self) -> Vec<f64> {
                vec![$($(self.$group.$name,)+)+]
            }
        }
    };
}

model! {
    /// The ball as an object.
    ball: Ball {
        gravity, restitution,
        circumference_size_5, circumference_size_6, circumference_size_7,
        mass_size_5, mass_size_6, mass_size_7,
        drag_size_5, drag_size_6, drag_size_7,
    }
    /// Kinds of pass: speed, range, heights, arc.
    passes: Passes {
        bounce_release_share, overhead_release_share, drop_off_speed,
        chest_shortest, chest_longest, bounce_shortest, bounce_longest,
        overhead_shortest, overhead_longest, drop_off_shortest, drop_off_longest,
        chest_release_height, bounce_release_height, overhead_release_height, drop_off_release_height,
        chest_catch_height, bounce_catch_height, overhead_catch_height, drop_off_catch_height,
        bounce_point, bounce_speed_kept, shortest_time, slowest_release,
        overhead_rise, overhead_rise_distance, overhead_arc_distance, overhead_arc_fade,
    }
    /// How bodies move, as far as it is not a limit of the single player.
    body: Body { turn_rate, planned_braking_share, facing_speed }
    /// Openness of passes, drives and backdoor cuts.
    looks: Looks {
        logistic_scale,
        pivot_distance, pivot_defender_distance, hand_reach_share,
        step_around_distance, step_around_width, step_around_shortest_pass, step_around_nearest,
        hop_height, low_ball_height, low_ball_reach_share,
        behind_receiver_reach_share, behind_receiver_distance, behind_receiver_offset,
        moving_receiver_speed, moving_defender_reaction_share, other_kind_advantage,
        moving_lead_share, moving_lead_time, standing_lead_share, standing_lead_time,
        far_hand_distance, far_hand_defender_distance, far_hand_full_offset, line_margin,
        perimeter_centre_depth, perimeter_deepest, stands_between,
        take_off_distance, drive_block_distance, drive_around_width,
        drive_around_defender_distance, drive_around_rim_distance, drive_around_nearest,
        drive_help_delay, drive_on_ball_delay, drive_round_delay,
        backdoor_finish_distance, backdoor_block_distance, backdoor_help_delay,
        backdoor_turn_delay, backdoor_start_share,
        open_lane_half_width,
    }
    /// What a shot is worth by place and kind.
    shots: Shots {
        catch_to_release, contest_share, contest_nearest, off_dribble_share, readiness_spread, readiness_least,
        readiness_angle, readiness_inside_out,
        foul_share, foul_room, foul_contact,
        board_depth, board_width, behind_board_share, long_three_distance, long_three_loss,
        rim_distance,
        post_share, post_free_distance, post_contact_distance,
        closing_time, lay_up_distance, floater_distance,
        long_two_feet, long_two_end_feet, three_level_feet, three_distance_fall,
    }
    /// The share of its open chance that a shot keeps, by the room in feet.
    contest: Contest {
        three_open_feet, three_at_0_ft, three_at_1_ft, three_at_3_ft, three_at_5_ft,
        two_open_feet, behind_room, rim_at_0_ft, rim_at_1_ft, rim_at_3_ft, rim_at_5_ft,
        jumper_at_0_ft, jumper_at_1_ft, jumper_at_3_ft, jumper_at_5_ft,
    }
    /// What a defender sees, and how soon that counts.
    perception: Perception {
        half_view, fixed_gaze_share, glance_time, glance_interval, lost_player_time, tracking_reaction_share, deny_head_start, impulse, stopped_costs, fake_delay, unseen_ball_delay, close_ball_distance, close_player_distance, least_alert, open_gaze_delay, player_gaze_delay, runner_slowing_distance,
    }
    /// Small steps of players without the ball.
    footwork: Footwork {
        meet_pass_distance, meet_pass_nearest, sway_outside, sway_inside, sway_defender, sway_time, sway_limit, v_cut_depth, v_cut_width, v_cut_defender_distance, v_cut_mate_distance,
    }
    /// How players move on their own, past each other and in contact.
    movement: Movement {
        lag, lag_standing, lag_urgent, lag_cut, lag_cutter_defender, lag_handler, settle_rate, run_time, run_slowest, run_fastest, lane_slowest, full_pace_distance, cut_pace, cut_pace_spread, place_scatter, place_scatter_together, place_scatter_out, place_scatter_in, place_scatter_most, loose_ball_distance, hold_spread, hold_shortest, hold_longest, carried_distance, pivot_distance, passes_within, pivot_speed, looks_first, looks_first_spread, drift_time, drift_distance, drift_in, drift_pace, meet_lead, meet_side, chest_distance, chest_room, drive_way_room, drive_round_distance, drive_round_room, drive_last_steps, contact_distance, contact_core, contact_time, contact_change, contact_grip, contact_soft_distance, contact_soft_share, contact_core_share, contact_push, avoid_distance, avoid_defender_distance, avoid_driver_distance, avoid_time, avoid_defender_time, avoid_contact_time, avoid_least_speed, yield_cutter, yield_runner, yield_standing, yield_handler, own_room, stands_speed, plan_time, plan_distance, plan_nearer, plan_end_distance, plan_start, plan_wait, plan_wait_crowd, plan_cut_speed, plan_run_speed, pulls_out_distance, plan_drive_speed, plan_meet_speed, rim_crowd, rim_crowd_distance, rim_stay, way_out_height, way_out_room, way_out_crowd, way_out_turn, way_out_defender, close_rate_easy, close_rate_near, close_rate_urgent, station_tolerance, defender_speed, on_ball_speed_share, far_off, holder_gap, closeout_gap, closeout_rate, closeout_over, entry_distance, entry_room, entry_share_short, entry_turn, entry_speed, entry_defender_share, cut_end_distance, cut_show_time, cut_show_spread, cut_show_longest,
    }
    /// How defenders guard, help and share out the work.
    defending: Defending {
        anticipation, station_step, forget_time, unseen_time, least_effort, full_effort_change, close_effort, turn_and_run_share, turns_from, own_lag, own_lag_at_ease, brake_share, wrong_side, rim_distance, board_half_width, board_front, late_catch, stunt_distance, contain_lead, contain_side, contain_catch, rim_catch, step_up, call_distance, strong_side_cost, late_cost, shade_share, shade_distance, stop_share, has_left, at_ball, cover_off, stay_home, left_inside, left_near, left_far, ball_weight, run_by_speed, run_by_ahead, run_by_side, run_by_yield, to_rim_cos, shoulder, half_step, driver_cushion, gives_ground, stands_share, driver_lead, chase_longest, lost_gap, chase_inside, round_room, ring_stop, open_share, open_most, opposite_angle, jump_time, jump_step, gap_step, gap_room, drop_share, drop_most, drop_lead, contest_gap, crowd_gap, stands_from, dig_room, dig_distance, ready_before, on_the_way, zone_sink, zone_reach_cost, zone_stay, zone_leash, zone_depth, overplay_gap, overplay_lane, sag_gap,
    }
}
