; The installer for Windows: for one person, without the rights of an administrator. packaging/package calls it
; with VERSION, STAGED (the folder of what goes in), LISTS (where it has written the two lists of files) and OUT.

; A program of 64 bits, as Spelk is.
Target amd64-unicode
!include MUI2.nsh

Name "Spelk"
OutFile "${OUT}"
InstallDir "$LOCALAPPDATA\Programs\Spelk"
InstallDirRegKey HKCU "Software\Spelk" "Folder"
RequestExecutionLevel user
ManifestDPIAware true
ManifestSupportedOS Win10
SetCompressor /SOLID lzma
BrandingText "Spelk ${VERSION}"
VIProductVersion "${VERSION}.0"
VIAddVersionKey ProductName "Spelk"
VIAddVersionKey FileDescription "Installs Spelk"
VIAddVersionKey FileVersion "${VERSION}"
VIAddVersionKey ProductVersion "${VERSION}"
VIAddVersionKey LegalCopyright "The Spelk authors; MIT or Apache 2.0"

!define MUI_ICON "${STAGED}\spelk.ico"
!define MUI_UNICON "${STAGED}\spelk.ico"
!define MUI_FINISHPAGE_RUN "$INSTDIR\Spelk.exe"
!insertmacro MUI_PAGE_DIRECTORY
!insertmacro MUI_PAGE_INSTFILES
!insertmacro MUI_PAGE_FINISH
!insertmacro MUI_UNPAGE_CONFIRM
!insertmacro MUI_UNPAGE_INSTFILES
!insertmacro MUI_LANGUAGE "English"

!define REMOVAL "Software\Microsoft\Windows\CurrentVersion\Uninstall\Spelk"

Section
    !include "${LISTS}\install.nsh"
    SetOutPath "$INSTDIR"
    WriteUninstaller "$INSTDIR\Remove Spelk.exe"

    CreateShortcut "$SMPROGRAMS\Spelk.lnk" "$INSTDIR\Spelk.exe" "" "$INSTDIR\spelk.ico"
    CreateShortcut "$SMPROGRAMS\Spelk in a terminal.lnk" "$SYSDIR\cmd.exe" '/k set "PATH=$INSTDIR\bin;%PATH%"' "$INSTDIR\spelk.ico"

    ; A job opens on a double click; a drawing has Spelk among the programs it can be opened with.
    WriteRegStr HKCU "Software\Classes\.spelk" "" "Spelk.Job"
    WriteRegStr HKCU "Software\Classes\.spelk" "Content Type" "application/x-spelk-job"
    WriteRegStr HKCU "Software\Classes\Spelk.Job" "" "Carving job"
    WriteRegStr HKCU "Software\Classes\Spelk.Job\DefaultIcon" "" "$INSTDIR\spelk.ico"
    WriteRegStr HKCU "Software\Classes\Spelk.Job\shell\open\command" "" '"$INSTDIR\Spelk.exe" "%1"'
    WriteRegStr HKCU "Software\Classes\Applications\Spelk.exe" "FriendlyAppName" "Spelk"
    WriteRegStr HKCU "Software\Classes\Applications\Spelk.exe\shell\open\command" "" '"$INSTDIR\Spelk.exe" "%1"'
    WriteRegStr HKCU "Software\Classes\Applications\Spelk.exe\SupportedTypes" ".spelk" ""
    WriteRegStr HKCU "Software\Classes\Applications\Spelk.exe\SupportedTypes" ".svg" ""
    WriteRegStr HKCU "Software\Classes\Applications\Spelk.exe\SupportedTypes" ".dxf" ""
    ; SHCNE_ASSOCCHANGED: the desktop reads the file types anew.
    System::Call 'shell32::SHChangeNotify(i 0x08000000, i 0, p 0, p 0)'

    WriteRegStr HKCU "Software\Spelk" "Folder" "$INSTDIR"
    WriteRegStr HKCU "${REMOVAL}" "DisplayName" "Spelk"
    WriteRegStr HKCU "${REMOVAL}" "DisplayVersion" "${VERSION}"
    WriteRegStr HKCU "${REMOVAL}" "DisplayIcon" "$INSTDIR\spelk.ico"
    WriteRegStr HKCU "${REMOVAL}" "UninstallString" '"$INSTDIR\Remove Spelk.exe"'
    WriteRegStr HKCU "${REMOVAL}" "QuietUninstallString" '"$INSTDIR\Remove Spelk.exe" /S'
    WriteRegDWORD HKCU "${REMOVAL}" "NoModify" 1
    WriteRegDWORD HKCU "${REMOVAL}" "NoRepair" 1
SectionEnd

; Only what was installed goes. The shop's own woods, cutters and rack stay, and so do the person's jobs.
Section Uninstall
    !include "${LISTS}\remove.nsh"
    Delete "$INSTDIR\Remove Spelk.exe"
    RMDir "$INSTDIR"
    Delete "$SMPROGRAMS\Spelk.lnk"
    Delete "$SMPROGRAMS\Spelk in a terminal.lnk"
    DeleteRegKey HKCU "Software\Classes\Spelk.Job"
    DeleteRegKey HKCU "Software\Classes\Applications\Spelk.exe"
    ReadRegStr $0 HKCU "Software\Classes\.spelk" ""
    StrCmp $0 "Spelk.Job" 0 +2
    DeleteRegKey HKCU "Software\Classes\.spelk"
    System::Call 'shell32::SHChangeNotify(i 0x08000000, i 0, p 0, p 0)'
    DeleteRegKey HKCU "Software\Spelk"
    DeleteRegKey HKCU "${REMOVAL}"
SectionEnd
