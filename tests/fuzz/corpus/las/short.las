# Invented demo data: no real well, place or company.
~Version
 VERS.                 2.0 : CWLS LOG ASCII STANDARD - VERSION 2.0
 WRAP.                  NO : ONE LINE PER DEPTH STEP
~Well
#MNEM.UNIT    DATA                  : DESCRIPTION
 STRT.F             300.0000 : START DEPTH
 STOP.F           11500.0000 : STOP DEPTH
 STEP.F              50.0000 : STEP
 NULL.             -999.2500 : NULL VALUE
 COMP.   INVENTED            : COMPANY
 WELL.   ALDER REACH 1 (INVENTED) : WELL
 FLD .   INVENTED            : FIELD
 LOC .   NOWHERE             : LOCATION
 CTRY.   NONE                : COUNTRY
 SRVC.   NONE                : SERVICE COMPANY
 DATE.   NONE                : DATE
 UWI .   NONE                : UNIQUE WELL ID
~Curve
 DEPT.F                      : TRUE VERTICAL DEPTH BELOW RIG FLOOR
 PP  .LB/GAL                 : PORE PRESSURE, EQUIVALENT MUD WEIGHT
 FG  .LB/GAL                 : FRACTURE GRADIENT, EQUIVALENT MUD WEIGHT
 GR  .GAPI                   : GAMMA RAY
~A  DEPT        PPG         FG         GR
    300.00     8.6259    11.7316     54.283
    350.00     8.6313    11.7755     39.610
    400.00     8.6255    11.8250     31.070
    450.00     8.6107    11.8696     31.232
    500.00     8.6037    11.9081     40.047
    550.00     8.5974    11.9397     54.863
    600.00     8.5977    11.9916     71.225
    650.00     8.5858    12.0157     84.210
