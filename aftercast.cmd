@echo off
rem The launcher on Windows: builds on first use, then runs the command.
setlocal
set "HERE=%~dp0"
if not exist "%HERE%target\aftercast.jar" (
  echo aftercast: building, first use takes a minute or two ... 1>&2
  pushd "%HERE%"
  call mvn -B -q -DskipTests -Djacoco.skip=true package
  if errorlevel 1 (
    popd
    echo aftercast: the build failed; what Maven said stands above. 1>&2
    exit /b 1
  )
  popd
)
java %AFTERCAST_JAVA_OPTS% -jar "%HERE%target\aftercast.jar" %*
