"""What parts of small machines are usually called: to choose from while recording, never forced (common practice)."""

COMMON_NAMES: tuple[str, ...] = (
    *("Air filter", "Air filter cover", "Carburettor", "Carburettor gasket", "Choke lever", "Insulator block"),
    *("Fuel tank", "Fuel tap", "Fuel hose", "Throttle lever", "Governor arm", "Governor rod", "Governor spring"),
    *("Recoil starter", "Starter cup", "Fan", "Fan shroud", "Cylinder shroud", "Flywheel", "Flywheel key"),
    *("Flywheel nut", "Ignition coil", "Spark plug", "Spark plug lead", "Stop switch", "Exhaust", "Exhaust gasket"),
    *("Heat shield", "Guard", "Rocker cover", "Rocker cover gasket", "Rocker", "Push rod", "Valve", "Valve spring"),
    *("Valve keeper", "Valve stem seal", "Cylinder head", "Head gasket", "Cylinder", "Piston", "Gudgeon pin"),
    *("Gudgeon pin circlip", "Piston ring", "Oil ring", "Connecting rod", "Big end cap", "Crankshaft", "Camshaft"),
    *("Cam follower", "Oil pump", "Oil drain plug", "Dipstick", "Side cover", "Side cover gasket", "Oil seal"),
    *("Main bearing", "Thrust washer", "Shim", "Dowel", "Clutch cover", "Clutch hub", "Clutch drum"),
    *("Friction plate", "Steel plate", "Clutch spring", "Chain", "Spring link", "Sprocket", "Gear", "Pinion"),
    *("Drive shaft", "Output shaft", "Key", "Circlip", "Belt", "Pulley", "Handle", "Lever", "Spring", "Ratchet wheel"),
    *("Pawl", "Brake band", "Brake disc", "Drum", "Rope", "Hook", "Base", "Frame", "Crankcase", "Bracket", "Cover"),
)
