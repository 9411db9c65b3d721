"""The closed vocabularies of the log; `analysis.core.records.terms` holds the same values and a test compares them."""

from django.db import models


class Role(models.TextChoices):
    OWNER = "owner", "club owner"
    COACH = "coach", "coach"
    STAFF = "staff", "gym staff"
    ATHLETE = "athlete", "athlete"


class Sex(models.TextChoices):
    FEMALE = "f", "women's tables"
    MALE = "m", "men's tables"


class Standing(models.TextChoices):
    BEGINNER = "beginner", "beginner"
    TRAINED = "trained", "trained"
    RETURNING = "returning", "returning"
    UNDER_18 = "under-18", "under 18"


class WeightUnit(models.TextChoices):
    KG = "kg", "kg"
    LB = "lb", "lb"


class LengthUnit(models.TextChoices):
    CM = "cm", "cm"
    INCH = "in", "in"


class Lift(models.TextChoices):
    DEADLIFT = "deadlift", "deadlift"
    SQUAT = "squat", "back squat"
    FRONT_SQUAT = "front-squat", "front squat"
    ROMANIAN = "romanian", "Romanian deadlift (soft-knee hinge)"
    GOOD_MORNING = "good-morning", "good morning"
    BACK_RAISE = "back-raise", "back raise"
    ROW = "row", "row"
    BENCH = "bench", "bench press"
    OTHER = "other", "other"


class Style(models.TextChoices):
    CONVENTIONAL = "conventional", "conventional"
    SUMO = "sumo", "sumo"
    WIDE_SUMO = "wide-sumo", "wide sumo"


class Shape(models.TextChoices):
    UNSEEN = "unseen", "not noted"
    FLAT = "flat", "flat"
    ROUNDED_BEFORE = "rounded-before", "rounded before the pull"
    ROUNDED_DURING = "rounded-during", "rounded during the pull"


class ShapeRegion(models.TextChoices):
    UPPER = "upper", "upper back"
    LOWER = "lower", "lower back"


class BarKind(models.TextChoices):
    UNKNOWN = "unknown", "not noted"
    STIFF = "stiff", "stiff bar, 29 mm"
    TRAINING = "training", "training bar, 28 mm"
    FLEXIBLE = "flexible", "flexible deadlift bar, 27 mm"
    SQUAT_BAR = "squat-bar", "squat bar"
    HEX_LOW = "hex-low", "hex bar, low handles"
    HEX_HIGH = "hex-high", "hex bar, high handles"
    OTHER = "other", "other bar"


class Grip(models.TextChoices):
    UNKNOWN = "unknown", "not noted"
    DOUBLE_OVERHAND = "double-overhand", "double overhand"
    MIXED = "mixed", "mixed"
    HOOK = "hook", "hook"


class Start(models.TextChoices):
    FLOOR = "floor", "floor"
    BLOCK = "block", "block or pins"
    DEFICIT = "deficit", "deficit"


class Result(models.TextChoices):
    MADE = "made", "made"
    MISSED = "missed", "missed"
    NO_LIFT = "no-lift", "no lift (rule)"
    NOT_TRIED = "not-tried", "not tried"
    STOPPED_PAIN = "stopped-pain", "stopped (pain)"


class MissPosition(models.TextChoices):
    FLOOR = "floor", "did not leave the floor"
    MID_SHIN = "mid-shin", "mid-shin"
    BELOW_KNEE = "below-knee", "just below the knee"
    AT_KNEE = "at-knee", "at the knee"
    MID_THIGH = "mid-thigh", "mid-thigh"
    LOCKOUT = "lockout", "lockout"


class GaveWay(models.TextChoices):
    NEVER_MOVED = "never-moved", "bar never moved"
    SLOWED_STOPPED = "slowed-stopped", "slowed and stopped, back flat"
    BACK_ROUNDED = "back-rounded", "back rounded"
    STRAIGHT_BUT_ROUND = "straight-but-round", "hips and knees straight, back still round"
    HIPS_SHOT_UP = "hips-shot-up", "hips shot up"
    GRIP_OPENED = "grip-opened", "grip opened"
    LOST_BALANCE = "lost-balance", "lost balance"
    FEET_MOVED = "feet-moved", "knees or feet moved"


class RuleReason(models.TextChoices):
    DOWNWARD_MOVEMENT = "downward-movement", "bar moved down before the end (hitch)"
    NOT_ERECT = "not-erect", "not erect, shoulders not back"
    KNEES_NOT_LOCKED = "knees-not-locked", "knees not locked"
    SUPPORTED_ON_THIGHS = "supported-on-thighs", "bar supported on the thighs"
    STEPPED = "stepped", "stepped or moved the feet"
    EARLY_LOWER = "early-lower", "lowered before the signal"
    UNCONTROLLED_RETURN = "uncontrolled-return", "bar not returned under control"
    OTHER_RULE = "other-rule", "another rule"


class InNewStyle(models.TextChoices):
    YES = "yes", "yes"
    PARTLY = "partly", "partly"
    NO = "no", "no"


class MeasureKey(models.TextChoices):
    MASS = "mass", "body mass"
    STATURE = "stature", "stature"
    SITTING_HEIGHT = "sitting_height", "sitting height"
    ARM_SPAN = "arm_span", "arm span"
    STANDING_GRIP_HEIGHT = "standing_grip_height", "standing grip height"
    ACROMIAL_HEIGHT = "acromial_height", "acromial height"
    TROCHANTERION_HEIGHT = "trochanterion_height", "trochanterion height"
    TIBIALE_HEIGHT = "tibiale_height", "tibiale height"
    LATERAL_MALLEOLUS_HEIGHT = "lateral_malleolus_height", "lateral malleolus height"
    BIACROMIAL_BREADTH = "biacromial_breadth", "biacromial breadth"
    HIP_BREADTH = "hip_breadth", "hip breadth"
    FOOT_LENGTH = "foot_length", "foot length"
    HAND_LENGTH = "hand_length", "hand length"


class HealthKind(models.TextChoices):
    PAIN = "pain", "pain"
    INJURY = "injury", "injury"
    SURGERY = "surgery", "surgery"
    CLEARANCE = "clearance", "clearance by a licensed professional"
    OTHER = "other", "other"


class BodySite(models.TextChoices):
    LOWER_BACK = "lower-back", "lower back"
    UPPER_BACK = "upper-back", "upper back"
    HIP = "hip", "hip"
    GROIN = "groin", "groin"
    GLUTE = "glute", "glute"
    HAMSTRING = "hamstring", "hamstring"
    KNEE = "knee", "knee"
    ANKLE = "ankle", "ankle or foot"
    SHOULDER = "shoulder", "shoulder"
    ARM = "arm", "elbow, arm or hand"
    OTHER = "other", "elsewhere"


class TrialStatus(models.TextChoices):
    RUNNING = "running", "running"
    DECIDED = "decided", "decided"
    STOPPED = "stopped", "stopped"


class Verdict(models.TextChoices):
    ADOPT = "adopt", "adopt"
    EXTEND = "extend", "extend"
    DROP = "drop", "drop"


class SuccessMeasure(models.TextChoices):
    MORE_WEIGHT = "more-weight", "more weight"
    MORE_WORK = "more-work", "more hard work without soreness"
